// Reading one JSON object key by key: takes values in their units, checks their ranges, knows its
// line and its path, and keeps what nobody asked for.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/vec.h"
#include "dish/ranges.h"
#include "files/json_value.h"
#include "files/read_log.h"
#include "files/words.h"

namespace files {

/// Whether a text may name something: at most 100 bytes without control characters.
bool is_name(std::string_view text);
inline constexpr const char* k_name_rule = "a name of at most 100 bytes without line breaks";

/// A name as a step of a path: in quotes where it is more than letters, digits and _ . -
std::string path_step(std::string_view name);

/// Path of something inside something: "mounts" + "M" is "mounts/M"; nothing before the root's.
std::string inside(const std::string& place, const std::string& step);

/// Path of the i-th thing of a list, from 0: "adjusters[1]".
std::string at_index(const std::string& place, std::size_t i);

/// An object that is being read. Every method that takes a value leaves the target as it was when
/// the key is absent or its value is a problem (which is then in the log), and returns whether it
/// took one. Keys of numbers come from the table of ranges unless they are given.
class ObjectReader {
 public:
  /// `kind` is the name of this kind of object in the schema; the texts must outlive the reader.
  ObjectReader(ReadLog& log, const JsonValue& value, std::string place, const char* kind);

  [[nodiscard]] bool is_object() const { return value_.kind == JsonValue::Kind::object; }
  [[nodiscard]] const std::string& place() const { return place_; }
  [[nodiscard]] int line() const { return value_.line; }
  [[nodiscard]] ReadLog& log() { return log_; }

  /// The member with this key, of any kind.
  const JsonValue* find(const char* key);
  /// The same, and a problem when it is absent or of another kind.
  const JsonValue* find_object(const char* key);
  const JsonValue* find_array(const char* key);

  bool number(dish::ranges::Quantity quantity, double& si);
  bool number(const char* key, dish::ranges::Quantity quantity, double& si);
  bool optional_number(dish::ranges::Quantity quantity, std::optional<double>& si);
  bool whole(dish::ranges::Quantity quantity, int& number);
  bool vec2(dish::ranges::Quantity quantity, base::Vec2& si);
  bool vec3(dish::ranges::Quantity quantity, base::Vec3& si);
  bool vec3(const char* key, dish::ranges::Quantity quantity, base::Vec3& si);
  bool numbers(const char* key, dish::ranges::Quantity quantity, double* si, std::size_t count);
  /// The same for a list that stands in a list; `step` is its path from this object.
  bool list_item(const JsonValue& value, const std::string& step, dish::ranges::Quantity quantity,
                 double* si, std::size_t count);
  bool list_number(const JsonValue& value, const std::string& step, dish::ranges::Quantity quantity,
                   double& si);
  /// A direction of any length but zero; made a unit vector unless it is one to 1e-9.
  bool direction(const char* key, base::Vec3& unit);
  /// Two directions "x" and "y" at right angles; y is squared up unless it is to 1e-9.
  void axes(base::Vec3& x, base::Vec3& y);
  bool flag(const char* key, bool& truth);
  bool text(const char* key, std::string& text);
  /// A name: at most 100 bytes without control characters.
  bool name(const char* key, std::string& text);
  template <class T, std::size_t N>
  bool choice(const char* key, const std::array<Word<T>, N>& words, T& chosen) {
    const JsonValue* value = find(key);
    if (value == nullptr) return false;
    if (value->kind == JsonValue::Kind::string) {
      for (const Word<T>& word : words) {
        if (value->text != word.text) continue;
        chosen = word.value;
        return true;
      }
    }
    problem(*value, key, describe(*value), list_of_words(words));
    return false;
  }

  /// Demands that a key is there.
  void require(const char* key, const std::string& expected);
  void problem(const JsonValue& at, const char* key, std::string value, std::string expected);

  /// To be called when all keys were asked for. Keys that nobody asked for are kept as unknown and
  /// noted; those that look like a known key in another unit are problems.
  void finish();

 private:
  void remember(const char* key, int quantity);
  void keep_unknown(const JsonValue& member);

  ReadLog& log_;
  const JsonValue& value_;
  std::string place_;
  const char* kind_;
  std::vector<const char*> asked_;
};

}  // namespace files
