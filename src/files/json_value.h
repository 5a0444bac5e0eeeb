// JSON text as a small tree that remembers lines, the order of keys, and numbers as they were
// written, so that readers can name places and take units without rounding.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace files {

struct JsonValue {
  enum class Kind : unsigned char { null, boolean, number, string, array, object };
  Kind kind = Kind::null;
  bool truth = false;               ///< of a boolean
  int line = 0;                     ///< 1-based, where the value begins
  std::string key;                  ///< its name, when it stands in an object
  std::string text;                 ///< a number as written; the characters of a string (UTF-8)
  std::vector<JsonValue> children;  ///< of an array or object, in order
};

inline constexpr std::size_t k_json_depth_cap = 32;
inline constexpr std::size_t k_json_value_cap = 2000000;

/// The member of an object with this key; nullptr when there is none.
const JsonValue* find_member(const JsonValue& object, std::string_view key);

/// Parses a whole text: strict JSON (RFC 8259), a byte-order mark allowed. Refused, with line and
/// column: bad syntax, bad UTF-8, NaN and Infinity, numbers too large for a double, a key twice in
/// one object, nesting deeper than k_json_depth_cap, more than k_json_value_cap values.
base::Result<JsonValue> parse_json(std::string_view bytes, std::string_view file_name);

/// The value as JSON on one line, numbers as they were written.
std::string compact_json(const JsonValue& value);

/// A string as JSON: in quotes, escaped where JSON demands it, UTF-8 otherwise kept.
std::string quoted_json(std::string_view text);

/// A short rendering of a value for messages: its text, or what kind of thing it is.
std::string describe(const JsonValue& value);

}  // namespace files
