// Cutting text into rows and fields.
#include "files/csv.h"

#include <algorithm>

#include <fmt/format.h>

#include "files/decimal.h"
#include "files/plain_text.h"
#include "files/unit_text.h"

namespace files {
namespace {

constexpr std::size_t k_row_cap = 200000;
constexpr std::size_t k_field_cap = 1000;

std::string_view trimmed(std::string_view text) {
  const auto is_space = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

/// Takes one line and its end off the front.
std::string_view take_line(std::string_view& text) {
  const std::size_t end = std::min(text.find_first_of("\r\n"), text.size());
  const std::string_view line = text.substr(0, end);
  text.remove_prefix(end);
  if (text.substr(0, 2) == "\r\n") {
    text.remove_prefix(2);
  } else if (!text.empty()) {
    text.remove_prefix(1);
  }
  return line;
}

char separator_of(std::string_view line) {
  bool quoted = false;
  char best = ',';
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\t') return c;
    if (c == ';') best = c;
  }
  return best;
}

/// Takes a field in quotes off the front; nothing when it does not end on the line.
std::optional<std::string> take_quoted(std::string_view& rest) {
  std::string field;
  rest.remove_prefix(1);
  while (!rest.empty()) {
    const char c = rest.front();
    rest.remove_prefix(1);
    if (c != '"') {
      field += c;
    } else if (!rest.empty() && rest.front() == '"') {
      field += '"';
      rest.remove_prefix(1);
    } else {
      return field;
    }
  }
  return std::nullopt;
}

/// The fields of one line; nothing when a quote does not end.
std::optional<std::vector<std::string>> split(std::string_view line, char separator) {
  std::vector<std::string> fields;
  std::string_view rest = line;
  while (fields.size() <= k_field_cap) {
    // A tab may separate, so only spaces are skipped before a quote.
    while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
    std::string field;
    if (!rest.empty() && rest.front() == '"') {
      std::optional<std::string> quoted = take_quoted(rest);
      if (!quoted) return std::nullopt;
      field = std::move(*quoted);
    }
    const std::size_t end = std::min(rest.find(separator), rest.size());
    field += trimmed(rest.substr(0, end));
    fields.push_back(std::move(field));
    if (end == rest.size()) break;
    rest.remove_prefix(end + 1);
  }
  if (fields.size() > k_field_cap) return fields;
  while (!fields.empty() && fields.back().empty()) fields.pop_back();
  return fields;
}

base::Problem problem_in(std::string_view file_name, int line, std::string value,
                         std::string expected) {
  return {fmt::format("{}, line {}", file_name, line), std::move(value), std::move(expected)};
}

/// Bytes that are no text at all, told before any line is looked at.
std::optional<base::Problem> refuse_bytes(std::string_view bytes, std::string_view file_name) {
  const std::string_view first = bytes.substr(0, 2);
  if (first == "\xFF\xFE" || first == "\xFE\xFF") {
    return base::Problem{std::string(file_name), "text in UTF-16", "text in UTF-8"};
  }
  if (bytes.find('\0') != std::string_view::npos) {
    return base::Problem{std::string(file_name), "binary data", "a table in text (CSV)"};
  }
  return std::nullopt;
}

}  // namespace

base::Result<CsvTable> read_csv(std::string_view bytes, std::string_view file_name) {
  if (const auto problem = refuse_bytes(bytes, file_name)) return *problem;
  std::string_view rest = without_mark(bytes);
  CsvTable table;
  for (int line = 1; !rest.empty(); ++line) {
    const std::string_view text = take_line(rest);
    if (!is_utf8(text)) {
      return problem_in(file_name, line, "bytes that are no characters", "text in UTF-8");
    }
    const std::string_view content = trimmed(text);
    if (content.empty() || content.front() == '#') continue;
    if (table.rows.size() == k_row_cap) {
      return problem_in(file_name, line, "more rows", fmt::format("at most {}", k_row_cap));
    }
    if (table.rows.empty()) table.separator = separator_of(text);
    std::optional<std::vector<std::string>> fields = split(text, table.separator);
    if (!fields) {
      return problem_in(file_name, line, "a double quote that does not end",
                        "a second one on the same line");
    }
    if (fields->size() > k_field_cap) {
      return problem_in(file_name, line, "more fields", fmt::format("at most {}", k_field_cap));
    }
    if (!fields->empty()) table.rows.push_back({line, std::move(*fields)});
  }
  return table;
}

namespace {

/// A field with a plain minus and a decimal point.
std::string plain_number(std::string_view field, char separator) {
  constexpr std::string_view k_minus = "\xE2\x88\x92";  // U+2212
  std::string text(field);
  if (field.substr(0, k_minus.size()) == k_minus) {
    text = "-" + std::string(field.substr(k_minus.size()));
  }
  if (separator != ',' && std::count(text.begin(), text.end(), ',') == 1 &&
      text.find('.') == std::string::npos) {
    std::replace(text.begin(), text.end(), ',', '.');
  }
  return text;
}

}  // namespace

std::optional<double> number_in_field(std::string_view field, char separator, int shift) {
  return number_from_text(plain_number(field, separator), shift);
}

std::optional<double> si_in_field(std::string_view field, char separator, dish::ranges::Unit unit) {
  return si_from_text(unit, plain_number(field, separator));
}

std::string csv_field(std::string_view text) {
  const bool plain = !text.empty() && text.find_first_of(",;\t\"\r\n") == std::string_view::npos &&
                     text == trimmed(text) && text.front() != '#';
  if (plain) return std::string(text);
  std::string field = "\"";
  for (const char c : text) {
    if (c == '"') field += '"';
    field += c;
  }
  return field + '"';
}

}  // namespace files
