// Building and laying out JSON.
#include "files/json_writer.h"

#include <algorithm>

#include "base/check.h"
#include "files/unit_text.h"

namespace files {
namespace {

using dish::ranges::Quantity;

constexpr std::size_t k_columns = 100;

JsonValue number_value(Quantity quantity, double si) {
  return {.kind = JsonValue::Kind::number,
          .text = text_from_si(dish::ranges::of(quantity).unit, si)};
}

bool is_container(const JsonValue& value) {
  return value.kind == JsonValue::Kind::array || value.kind == JsonValue::Kind::object;
}

bool is_list_of_objects(const JsonValue& value) {
  return value.kind == JsonValue::Kind::array &&
         std::any_of(value.children.begin(), value.children.end(),
                     [](const JsonValue& item) { return item.kind == JsonValue::Kind::object; });
}

bool holds_list_of_objects(const JsonValue& value) {
  return std::any_of(value.children.begin(), value.children.end(), is_list_of_objects);
}

/// Appends values laid out over lines.
class Layouter {
 public:
  explicit Layouter(std::string& out) : out_(out) {}

  /// `begun` is the number of columns before the value on its line.
  void append(const JsonValue& value, std::size_t depth, std::size_t begun, bool is_item) {
    const bool breakable = is_container(value) && !value.children.empty();
    if (!breakable || stays_on_line(value, begun, is_item)) {
      out_ += compact_json(value);
      return;
    }
    const bool is_object = value.kind == JsonValue::Kind::object;
    out_ += is_object ? "{\n" : "[\n";
    for (const JsonValue& child : value.children) {
      const std::string key = is_object ? quoted_json(child.key) + ": " : "";
      out_.append(2 * (depth + 1), ' ').append(key);
      append(child, depth + 1, 2 * (depth + 1) + key.size(), !is_object);
      out_ += &child == &value.children.back() ? "\n" : ",\n";
    }
    out_.append(2 * depth, ' ');
    out_ += is_object ? '}' : ']';
  }

 private:
  static bool stays_on_line(const JsonValue& value, std::size_t begun, bool is_item) {
    if (is_list_of_objects(value) || holds_list_of_objects(value)) return false;
    return is_item || begun + compact_json(value).size() < k_columns;
  }

  std::string& out_;
};

}  // namespace

void ObjectWriter::number(Quantity quantity, double si) {
  number(dish::ranges::of(quantity).key, quantity, si);
}

void ObjectWriter::number(const char* key, Quantity quantity, double si) {
  member(key, number_value(quantity, si));
}

void ObjectWriter::vec2(Quantity quantity, const base::Vec2& si) {
  numbers(dish::ranges::of(quantity).key, quantity, &si.x, 2);
}

void ObjectWriter::vec3(const char* key, Quantity quantity, const base::Vec3& si) {
  numbers(key, quantity, &si.x, 3);
}

void ObjectWriter::numbers(const char* key, Quantity quantity, const double* si,
                           std::size_t count) {
  member(key, list_of_numbers(quantity, si, count));
}

void ObjectWriter::direction(const char* key, const base::Vec3& unit) {
  numbers(key, Quantity::direction, &unit.x, 3);
}

void ObjectWriter::text(const char* key, std::string_view text) {
  member(key, {.kind = JsonValue::Kind::string, .text = std::string(text)});
}

void ObjectWriter::flag(const char* key, bool truth) {
  member(key, {.kind = JsonValue::Kind::boolean, .truth = truth});
}

void ObjectWriter::member(std::string_view key, JsonValue value) {
  value.key = key;
  object_.children.push_back(std::move(value));
}

JsonValue ObjectWriter::finish(const UnknownByPlace& unknown, const std::string& place) && {
  const auto found = unknown.find(place);
  if (found == unknown.end()) return std::move(object_);
  for (const dish::UnknownKey* key : found->second) {
    if (find_member(object_, key->key) != nullptr) continue;
    base::Result<JsonValue> value = parse_json(key->json, "a kept key");
    CHECK(value.ok(), "keys that were kept hold the JSON they were read from");
    member(key->key, std::move(value).value());
  }
  return std::move(object_);
}

JsonValue list_of_numbers(Quantity quantity, const double* si, std::size_t count) {
  JsonValue list = empty_list();
  list.children.reserve(count);
  for (std::size_t i = 0; i < count; ++i) list.children.push_back(number_value(quantity, si[i]));
  return list;
}

JsonValue empty_list() { return {.kind = JsonValue::Kind::array}; }

std::string pretty_json(const JsonValue& value) {
  std::string out;
  Layouter(out).append(value, 0, 0, false);
  return out + "\n";
}

}  // namespace files
