// Building JSON values in the order and units of the file, and laying them out as text that is
// pleasant to read and always the same.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/vec.h"
#include "dish/dish.h"
#include "dish/ranges.h"
#include "files/json_value.h"

namespace files {

/// Unknown keys of a dish by the path of the object they stand in.
using UnknownByPlace = std::map<std::string, std::vector<const dish::UnknownKey*>>;

/// Collects the members of one object in order. Keys of numbers come from the table of ranges
/// unless they are given.
class ObjectWriter {
 public:
  void number(dish::ranges::Quantity quantity, double si);
  void number(const char* key, dish::ranges::Quantity quantity, double si);
  void vec2(dish::ranges::Quantity quantity, const base::Vec2& si);
  void vec3(const char* key, dish::ranges::Quantity quantity, const base::Vec3& si);
  void numbers(const char* key, dish::ranges::Quantity quantity, const double* si,
               std::size_t count);
  void direction(const char* key, const base::Vec3& unit);
  void text(const char* key, std::string_view text);
  void flag(const char* key, bool truth);
  void member(std::string_view key, JsonValue value);
  /// The object, with the unknown keys of its place after the known ones. An unknown key that has
  /// become known meanwhile is dropped.
  [[nodiscard]] JsonValue finish(const UnknownByPlace& unknown, const std::string& place) &&;

 private:
  JsonValue object_{.kind = JsonValue::Kind::object};
};

/// Lists of numbers, and an empty list to fill.
JsonValue list_of_numbers(dish::ranges::Quantity quantity, const double* si, std::size_t count);
JsonValue empty_list();

/// Text with two spaces for each level and a final newline. Items of lists stand on one line each
/// unless they hold lists of objects; anything else stands on one line when it fits in 100 columns.
std::string pretty_json(const JsonValue& value);

}  // namespace files
