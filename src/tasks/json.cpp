// Writes and parses the JSON of requests and replies.
#include "tasks/json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tasks {
namespace {

constexpr std::size_t k_line_length = 100;

std::string scalar_text(const Json& value) {
  if (!value.is_number_float()) {
    return value.dump(-1, ' ', false, Json::error_handler_t::replace);
  }
  const double number = value.get<double>();
  if (!std::isfinite(number)) return "null";
  return number == 0.0 ? "0" : fmt::format("{}", number);
}

bool is_plain(const Json& value) {
  return std::all_of(value.begin(), value.end(), [](const Json& entry) {
    return entry.is_primitive() || (entry.is_array() && entry.size() <= 4 &&
                                    std::all_of(entry.begin(), entry.end(),
                                                [](const Json& e) { return e.is_primitive(); }));
  });
}

struct Layout {
  std::string colon;
  std::string comma;  ///< between entries on one line
};

void append_key(const Json& key, const Layout& layout, std::string& text) {
  text += scalar_text(key);
  text += layout.colon;
}

void append_line(const Json& value, const Layout& layout, std::string& text) {
  if (value.is_primitive()) {
    text += scalar_text(value);
    return;
  }
  const bool keyed = value.is_object();
  text += keyed ? '{' : '[';
  bool first = true;
  for (auto entry = value.begin(); entry != value.end(); ++entry) {
    if (!first) text += layout.comma;
    first = false;
    if (keyed) append_key(Json(entry.key()), layout, text);
    append_line(entry.value(), layout, text);
  }
  text += keyed ? '}' : ']';
}

void append_block(const Json& value, std::size_t level, std::string& text) {
  const Layout layout{": ", ", "};
  const std::size_t start = text.size();
  if (value.is_primitive() || value.empty() || is_plain(value)) {
    append_line(value, layout, text);
    const bool fits = text.size() - start + 2 * level <= k_line_length;
    if (value.is_primitive() || value.empty() || fits) return;
    text.resize(start);
  }
  const bool keyed = value.is_object();
  text += keyed ? '{' : '[';
  bool first = true;
  for (auto entry = value.begin(); entry != value.end(); ++entry) {
    text += first ? "\n" : ",\n";
    first = false;
    text.append(2 * (level + 1), ' ');
    if (keyed) append_key(Json(entry.key()), layout, text);
    append_block(entry.value(), level + 1, text);
  }
  text += '\n';
  text.append(2 * level, ' ');
  text += keyed ? '}' : ']';
}

/// Line and column (from 1) of a byte of the text.
std::string place_in(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line = std::count(before.begin(), before.end(), '\n') + 1;
  const std::size_t newline = before.rfind('\n');
  const std::size_t column =
      newline == std::string_view::npos ? before.size() + 1 : before.size() - newline;
  return fmt::format("line {}, column {}", line, column);
}

/// Byte after a string that starts at `at` with its quote.
std::size_t string_end(std::string_view text, std::size_t at) {
  for (++at; at < text.size() && text[at] != '"'; ++at) {
    if (text[at] == '\\') ++at;
  }
  return std::min(at + 1, text.size());
}

/// Byte after the value that starts at `at`: its comma or the bracket that closes what holds it.
std::size_t value_end(std::string_view text, std::size_t at) {
  int depth = 0;
  while (at < text.size()) {
    const char c = text[at];
    if (c == '"') {
      at = string_end(text, at);
      continue;
    }
    if (c == '{' || c == '[') ++depth;
    if (c == '}' || c == ']') {
      if (depth == 0) return at;
      --depth;
    }
    if (c == ',' && depth == 0) return at;
    ++at;
  }
  return at;
}

}  // namespace

Json number(double value) {
  if (!std::isfinite(value)) return Json(nullptr);
  return Json(value == 0.0 ? 0.0 : value);
}

Json numbers(const base::Vec2& value, double scale) {
  return Json::array({number(value.x * scale), number(value.y * scale)});
}

Json numbers(const base::Vec3& value, double scale) {
  return Json::array({number(value.x * scale), number(value.y * scale), number(value.z * scale)});
}

std::string to_text(const Json& value) {
  std::string text;
  append_block(value, 0, text);
  return text;
}

std::string to_dense_text(const Json& value) {
  std::string text;
  append_line(value, Layout{":", ","}, text);
  return text;
}

std::string_view member_text(std::string_view text, std::string_view key) {
  std::size_t at = text.find('{');
  std::string_view found;
  while (at != std::string_view::npos && (at = text.find('"', at)) != std::string_view::npos) {
    const std::size_t key_end = string_end(text, at);
    const std::string_view name = text.substr(at + 1, key_end - at - 2);
    const std::size_t colon = text.find(':', key_end);
    if (colon == std::string_view::npos) break;
    const std::size_t end = value_end(text, colon + 1);
    // Of a key that stands twice the last counts, as in the parsed object.
    if (name == key) found = text.substr(colon + 1, end - colon - 1);
    at = end;
  }
  return found;
}

base::Result<Json> parse_json(std::string_view text, const std::string& name) {
  try {
    return Json::parse(text.begin(), text.end());
  } catch (const Json::parse_error& error) {
    const std::size_t byte = error.byte > 0 ? error.byte - 1 : 0;
    const std::string found =
        byte < text.size() ? fmt::format("\"{}\"", text.substr(byte, 12)) : "the text ends";
    return base::Problem{fmt::format("{}, {}", name, place_in(text, byte)), found,
                         "well-formed JSON"};
  } catch (const Json::exception& error) {
    return base::Problem{name, error.what(), "well-formed JSON with numbers in range"};
  }
}

}  // namespace tasks
