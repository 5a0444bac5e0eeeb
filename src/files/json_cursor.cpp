// Taking values out of one JSON object, with their places.
#include "files/json_cursor.h"

#include <algorithm>
#include <cmath>
#include <cstring>

#include <fmt/format.h>

#include "base/closest.h"
#include "files/plain_text.h"
#include "files/unit_text.h"

namespace files {
namespace {

using dish::ranges::Quantity;

constexpr std::size_t k_longest_name = 100;

bool is_plain(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '.' || c == '-';
}

/// A key without its unit: "pitch_mm" is "pitch".
std::string_view stem_of(std::string_view key) {
  constexpr std::array<std::string_view, 20> k_units{
      "_W_m2", "_N_mm", "_N_m", "_mrad", "_turns", "_inch", "_deg", "_rad", "_mm", "_cm",
      "_um",   "_km",   "_in",  "_ft",   "_kW_m2", "_kN_m", "_m",   "_N",   "_W",  "_kN"};
  for (const std::string_view unit : k_units) {
    const bool ends = key.size() > unit.size() && key.substr(key.size() - unit.size()) == unit;
    if (ends) return key.substr(0, key.size() - unit.size());
  }
  return key;
}

/// As far from one as dish/checks allows: such directions are kept to the last bit.
constexpr double k_rounding = 1e-9;

bool is_unit_vector(const base::Vec3& v) { return std::abs(glm::length(v) - 1.0) <= k_rounding; }

}  // namespace

bool is_name(std::string_view text) {
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
  return text.size() <= k_longest_name && std::none_of(text.begin(), text.end(), is_control);
}

std::string path_step(std::string_view name) {
  const bool plain = !name.empty() && std::all_of(name.begin(), name.end(), is_plain);
  return plain ? std::string(name) : quoted_json(name);
}

std::string inside(const std::string& place, const std::string& step) {
  return place.empty() ? step : place + "/" + step;
}

std::string at_index(const std::string& place, std::size_t i) {
  return fmt::format("{}[{}]", place, i);
}

ObjectReader::ObjectReader(ReadLog& log, const JsonValue& value, std::string place,
                           const char* kind)
    : log_(log), value_(value), place_(std::move(place)), kind_(kind) {
  if (!is_object()) log_.problem(value_.line, place_, describe(value_), "an object in braces { }");
}

const JsonValue* ObjectReader::find(const char* key) {
  asked_.push_back(key);
  remember(key, k_no_quantity);
  return find_member(value_, key);
}

void ObjectReader::remember(const char* key, int quantity) {
  if (log_.asked != nullptr) log_.asked->emplace(std::string(kind_) + "/" + key, quantity);
}

const JsonValue* ObjectReader::find_object(const char* key) {
  const JsonValue* value = find(key);
  if (value == nullptr || value->kind == JsonValue::Kind::object) return value;
  problem(*value, key, describe(*value), "an object in braces { }");
  return nullptr;
}

const JsonValue* ObjectReader::find_array(const char* key) {
  const JsonValue* value = find(key);
  if (value == nullptr || value->kind == JsonValue::Kind::array) return value;
  problem(*value, key, describe(*value), "a list in brackets [ ]");
  return nullptr;
}

void ObjectReader::problem(const JsonValue& at, const char* key, std::string value,
                           std::string expected) {
  log_.problem(at.line, inside(place_, key), std::move(value), std::move(expected));
}

void ObjectReader::require(const char* key, const std::string& expected) {
  if (!is_object() || find_member(value_, key) != nullptr) return;
  problem(value_, key, "missing", expected);
}

bool ObjectReader::list_number(const JsonValue& value, const std::string& step, Quantity quantity,
                               double& si) {
  const std::string range = dish::ranges::range_text(quantity);
  if (value.kind != JsonValue::Kind::number) {
    const char* hint = value.kind == JsonValue::Kind::string ? ", without quotes" : "";
    log_.problem(value.line, inside(place_, step), describe(value),
                 fmt::format("a number{}, {}", hint, range));
    return false;
  }
  const std::optional<double> number = si_from_text(dish::ranges::of(quantity).unit, value.text);
  if (!number || !dish::ranges::in_range(quantity, *number)) {
    log_.problem(value.line, inside(place_, step), describe(value), range);
    return false;
  }
  si = *number;
  return true;
}

bool ObjectReader::number(Quantity quantity, double& si) {
  return number(dish::ranges::of(quantity).key, quantity, si);
}

bool ObjectReader::number(const char* key, Quantity quantity, double& si) {
  const JsonValue* value = find(key);
  remember(key, static_cast<int>(quantity));
  return value != nullptr && list_number(*value, key, quantity, si);
}

bool ObjectReader::optional_number(Quantity quantity, std::optional<double>& si) {
  double value = 0.0;
  if (!number(quantity, value)) return false;
  si = value;
  return true;
}

bool ObjectReader::whole(Quantity quantity, int& number) {
  double value = 0.0;
  if (!this->number(quantity, value)) return false;
  number = static_cast<int>(value);
  return true;
}

bool ObjectReader::numbers(const char* key, Quantity quantity, double* si, std::size_t count) {
  const JsonValue* value = find(key);
  remember(key, static_cast<int>(quantity));
  return value != nullptr && list_item(*value, key, quantity, si, count);
}

bool ObjectReader::list_item(const JsonValue& value, const std::string& step, Quantity quantity,
                             double* si, std::size_t count) {
  if (value.kind != JsonValue::Kind::array || value.children.size() != count) {
    log_.problem(value.line, inside(place_, step), describe(value),
                 fmt::format("a list of {} numbers", count));
    return false;
  }
  std::array<double, 3> taken{};
  CHECK(count <= taken.size(), "lists of numbers in a dish have two or three of them");
  bool good = true;
  for (std::size_t i = 0; i < count; ++i) {
    good = list_number(value.children[i], at_index(step, i), quantity, taken[i]) && good;
  }
  if (good) std::copy_n(taken.begin(), count, si);
  return good;
}

bool ObjectReader::vec2(Quantity quantity, base::Vec2& si) {
  return numbers(dish::ranges::of(quantity).key, quantity, &si.x, 2);
}

bool ObjectReader::vec3(Quantity quantity, base::Vec3& si) {
  return vec3(dish::ranges::of(quantity).key, quantity, si);
}

bool ObjectReader::vec3(const char* key, Quantity quantity, base::Vec3& si) {
  return numbers(key, quantity, &si.x, 3);
}

bool ObjectReader::direction(const char* key, base::Vec3& unit) {
  base::Vec3 v{0.0, 0.0, 0.0};
  if (!numbers(key, Quantity::direction, &v.x, 3)) return false;
  if (glm::length(v) < 1e-6) {
    problem(*find_member(value_, key), key, describe(*find_member(value_, key)),
            "a direction: three numbers that are not all zero");
    return false;
  }
  unit = is_unit_vector(v) ? v : base::unit(v);
  return true;
}

void ObjectReader::axes(base::Vec3& x, base::Vec3& y) {
  direction("x", x);
  direction("y", y);
  const double lean = glm::dot(x, y);
  if (std::abs(lean) <= k_rounding) return;
  const base::Vec3 across = y - lean * x;
  if (glm::length(across) < 0.1) {
    log_.problem(value_.line, place_, "x and y are nearly parallel",
                 "two directions at right angles");
    return;
  }
  y = base::unit(across);
}

bool ObjectReader::flag(const char* key, bool& truth) {
  const JsonValue* value = find(key);
  if (value == nullptr) return false;
  if (value->kind != JsonValue::Kind::boolean) {
    problem(*value, key, describe(*value), "true or false");
    return false;
  }
  truth = value->truth;
  return true;
}

bool ObjectReader::text(const char* key, std::string& text) {
  const JsonValue* value = find(key);
  if (value == nullptr) return false;
  if (value->kind != JsonValue::Kind::string) {
    problem(*value, key, describe(*value), "text in double quotes");
    return false;
  }
  text = value->text;
  return true;
}

bool ObjectReader::name(const char* key, std::string& text) {
  std::string name;
  if (!this->text(key, name)) return false;
  if (!is_name(name)) {
    problem(*find_member(value_, key), key, quoted_json(shortened(name)), k_name_rule);
    return false;
  }
  text = std::move(name);
  return true;
}

void ObjectReader::finish() {
  if (!is_object()) return;
  for (const JsonValue& member : value_.children) {
    const bool known = std::any_of(asked_.begin(), asked_.end(),
                                   [&](const char* key) { return member.key == key; });
    if (!known) keep_unknown(member);
  }
}

void ObjectReader::keep_unknown(const JsonValue& member) {
  const std::string place = inside(place_, path_step(member.key));
  for (const char* key : asked_) {
    const bool other_unit = stem_of(key) != key && stem_of(member.key) == stem_of(key);
    if (!other_unit || find_member(value_, key) != nullptr) continue;
    log_.problem(member.line, place, describe(member), fmt::format("{} in its place", key));
    return;
  }
  std::string words = "not a key of this version; kept as it is";
  const auto closest = base::closest(member.key, {asked_.begin(), asked_.end()});
  if (closest) words += fmt::format(" (did you mean {}?)", *closest);
  log_.note(member.line, place, words);
  log_.unknown.push_back({.place = place_, .key = member.key, .json = compact_json(member)});
}

}  // namespace files
