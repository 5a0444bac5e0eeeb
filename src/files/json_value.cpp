// The JSON tree's own functions; building it from text is in json_parse.cpp.
#include "files/json_value.h"

#include <algorithm>

#include <fmt/format.h>

#include "files/plain_text.h"

namespace files {
namespace {

void append_json(const JsonValue& value, std::string& out) {
  switch (value.kind) {
    case JsonValue::Kind::null:
      out += "null";
      return;
    case JsonValue::Kind::boolean:
      out += value.truth ? "true" : "false";
      return;
    case JsonValue::Kind::number:
      out += value.text;
      return;
    case JsonValue::Kind::string:
      out += quoted_json(value.text);
      return;
    default:
      break;
  }
  const bool is_object = value.kind == JsonValue::Kind::object;
  out += is_object ? '{' : '[';
  for (const JsonValue& child : value.children) {
    if (&child != &value.children.front()) out += ", ";
    if (is_object) out += quoted_json(child.key) + ": ";
    append_json(child, out);
  }
  out += is_object ? '}' : ']';
}

}  // namespace

const JsonValue* find_member(const JsonValue& object, std::string_view key) {
  if (object.kind != JsonValue::Kind::object) return nullptr;
  const auto found = std::find_if(object.children.begin(), object.children.end(),
                                  [&](const JsonValue& child) { return child.key == key; });
  return found == object.children.end() ? nullptr : &*found;
}

std::string compact_json(const JsonValue& value) {
  std::string out;
  append_json(value, out);
  return out;
}

std::string quoted_json(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (c == '\r') {
      out += "\\r";
    } else if (static_cast<unsigned char>(c) < 0x20) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    } else {
      out += c;
    }
  }
  return out + '"';
}

std::string describe(const JsonValue& value) {
  switch (value.kind) {
    case JsonValue::Kind::null:
      return "null";
    case JsonValue::Kind::boolean:
      return value.truth ? "true" : "false";
    case JsonValue::Kind::number:
      return shortened(value.text);
    case JsonValue::Kind::string:
      return quoted_json(shortened(value.text));
    case JsonValue::Kind::array:
      return fmt::format("a list of {}", value.children.size());
    case JsonValue::Kind::object:
      break;
  }
  return "an object";
}

}  // namespace files
