// Lines up text in columns and chooses the digits of figures.
#include "tasks/table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "base/check.h"

namespace tasks {
namespace {

/// Number of characters of UTF-8 text (bytes that do not continue a character).
std::size_t characters(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
  }));
}

std::string padded(const std::string& text, std::size_t width, bool to_the_right) {
  const std::size_t length = characters(text);
  const std::string space(width > length ? width - length : 0, ' ');
  return to_the_right ? space + text : text + space;
}

void append_row(const std::vector<std::string>& cells, const Table& table,
                const std::vector<std::size_t>& widths, std::string& text) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += "  ";
    line += padded(cells[i], widths[i], table.columns[i].to_the_right);
  }
  line.erase(line.find_last_not_of(' ') + 1);
  text += line + "\n";
}

std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

void append_csv_row(const std::vector<std::string>& cells, std::string& text) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) text += ',';
    text += csv_cell(cells[i]);
  }
  text += '\n';
}

/// Takes the sign off a number whose digits are all zero.
std::string without_minus_zero(std::string text) {
  const bool all_zero = text.find_first_of("123456789") == std::string::npos;
  if (all_zero && !text.empty() && text[0] == '-') text.erase(0, 1);
  return text;
}

}  // namespace

std::string to_text(const Table& table) {
  std::vector<std::size_t> widths;
  std::vector<std::string> titles;
  for (const Table::Column& column : table.columns) {
    widths.push_back(characters(column.title));
    titles.push_back(column.title);
  }
  for (const auto& row : table.rows) {
    CHECK(row.size() == widths.size(), "every row of a table has a cell for each column");
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], characters(row[i]));
    }
  }
  std::string text;
  append_row(titles, table, widths, text);
  std::size_t whole = 0;
  for (const std::size_t width : widths) whole += width + 2;
  text += std::string(whole < 2 ? 0 : whole - 2, '-') + "\n";
  for (const auto& row : table.rows) append_row(row, table, widths, text);
  return text;
}

std::string to_csv(const std::vector<std::string>& keys,
                   const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  append_csv_row(keys, text);
  for (const auto& row : rows) {
    CHECK(row.size() == keys.size(), "every row of a CSV file has a cell for each key");
    append_csv_row(row, text);
  }
  return text;
}

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  return without_minus_zero(fmt::format("{:.{}f}", value, decimals));
}

std::string fixed_signed(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  const std::string text = fixed(value, decimals);
  const bool is_zero = text.find_first_of("123456789") == std::string::npos;
  return text[0] == '-' || is_zero ? text : "+" + text;
}

std::string significant(double value, int digits) {
  if (!std::isfinite(value)) return "-";
  const double size = std::abs(value);
  if (size == 0.0) return "0";
  if (size < 1e-4 || size >= 1e9) return fmt::format("{:.{}e}", value, digits - 1);
  const int before = static_cast<int>(std::floor(std::log10(size))) + 1;
  return without_minus_zero(fmt::format("{:.{}f}", value, std::max(0, digits - before)));
}

std::string exact(double value) {
  if (!std::isfinite(value)) return "";
  return value == 0.0 ? "0" : fmt::format("{}", value);
}

void Lines::add(std::string name, std::string value) {
  entries.emplace_back(std::move(name), std::move(value));
}

std::string to_text(const Lines& lines) {
  std::size_t width = 0;
  for (const auto& entry : lines.entries) width = std::max(width, characters(entry.first));
  std::string text;
  for (const auto& entry : lines.entries) {
    text += padded(entry.first, width, false) + "  " + entry.second + "\n";
  }
  return text;
}

}  // namespace tasks
