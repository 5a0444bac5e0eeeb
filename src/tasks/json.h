// JSON as the tasks speak it: keys in the order they were put, numbers in their shortest form that
// reads back to the same bits, never a NaN or an infinity, and a layout a person can read.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/result.h"
#include "base/vec.h"

namespace tasks {

using Json = nlohmann::ordered_json;

/// A finite number as itself (-0 as 0); anything else as null, which reads "not known".
Json number(double value);

/// [x, y] and [x, y, z], each number times `scale` (1000 turns metres into millimetres and radians
/// into milliradians).
Json numbers(const base::Vec2& value, double scale = 1.0);
Json numbers(const base::Vec3& value, double scale = 1.0);

/// Text of a value: objects and arrays that hold only plain values stand on one line while they
/// fit, everything else one entry a line, two spaces a level. Ends without a newline.
/// Source of the number form: shortest digits that round-trip (fmt).
std::string to_text(const Json& value);

/// The same without any white space, for messages between workers.
std::string to_dense_text(const Json& value);

/// Text to a value. Problem: the place in the text (line and column) and what was expected there.
/// `name` says what the text is.
base::Result<Json> parse_json(std::string_view text, const std::string& name);

/// The text of a member's value in the outermost object, as it was written; empty when there is
/// none. Numbers that went through a double and another unit could differ in their last bit, so a
/// dish within a request is read from its own text. `text` must be well-formed.
std::string_view member_text(std::string_view text, std::string_view key);

}  // namespace tasks
