// A small validator; the keywords are those of JSON Schema 2020-12, validation vocabulary.
#include "schema_check.h"

#include <set>

#include "base/check.h"

namespace schema {
namespace {

using nlohmann::json;

class Checker {
 public:
  explicit Checker(const json& root) : root_(root) {}

  void check(const json& schema, const json& value, const std::string& place) {
    know_all_words(schema);
    if (schema.contains("$ref")) check(target(schema["$ref"]), value, place);
    if (schema.contains("const") && value != schema["const"]) say(place, "not the constant");
    if (schema.contains("enum") && !is_among(schema["enum"], value)) say(place, "not a choice");
    if (schema.contains("type") && !is_of_type(schema["type"], value)) {
      say(place, "not of type " + schema["type"].get<std::string>());
    }
    if (value.is_number()) check_number(schema, value.get<double>(), place);
    if (value.is_string()) check_text(schema, value.get<std::string>(), place);
    if (value.is_array()) check_list(schema, value, place);
    if (value.is_object()) check_object(schema, value, place);
    check_alternatives(schema, value, place);
  }

  std::vector<std::string> misfits;

 private:
  void say(const std::string& place, const std::string& words) {
    misfits.push_back(place + ": " + words);
  }

  const json& target(const std::string& ref) const {
    return root_.at(json::json_pointer(ref.substr(1)));
  }

  static void know_all_words(const json& schema) {
    static const std::set<std::string> known{
        "$schema",  "$ref",       "$defs",     "title",         "description",
        "default",  "const",      "enum",      "type",          "minimum",
        "maximum",  "minLength",  "maxLength", "items",         "minItems",
        "maxItems", "properties", "required",  "propertyNames", "additionalProperties",
        "oneOf",    "anyOf"};
    for (const auto& word : schema.items()) {
      BASE_CHECK(known.count(word.key()) == 1, "the schema uses words this check knows");
    }
  }

  static bool is_among(const json& list, const json& value) {
    for (const json& item : list) {
      if (item == value) return true;
    }
    return false;
  }

  static bool is_of_type(const std::string& type, const json& value) {
    if (type == "number") return value.is_number();
    if (type == "integer") {
      return value.is_number() && value.get<double>() == std::floor(value.get<double>());
    }
    return type == value.type_name();
  }

  void check_number(const json& schema, double value, const std::string& place) {
    if (value < schema.value("minimum", value)) say(place, "below the minimum");
    if (value > schema.value("maximum", value)) say(place, "above the maximum");
  }

  void check_text(const json& schema, const std::string& text, const std::string& place) {
    if (text.size() < schema.value("minLength", std::size_t{0})) say(place, "too short");
    if (text.size() > schema.value("maxLength", text.size())) say(place, "too long");
  }

  void check_list(const json& schema, const json& list, const std::string& place) {
    if (list.size() < schema.value("minItems", std::size_t{0})) say(place, "too few items");
    if (list.size() > schema.value("maxItems", list.size())) say(place, "too many items");
    if (!schema.contains("items")) return;
    for (std::size_t i = 0; i < list.size(); ++i) {
      check(schema["items"], list[i], place + "/" + std::to_string(i));
    }
  }

  void check_object(const json& schema, const json& object, const std::string& place) {
    for (const json& key : schema.value("required", json::array())) {
      if (!object.contains(key.get<std::string>())) say(place, "lacks " + key.get<std::string>());
    }
    const json properties = schema.value("properties", json::object());
    for (const auto& member : object.items()) {
      const std::string inner = place + "/" + member.key();
      if (schema.contains("propertyNames")) check(schema["propertyNames"], member.key(), inner);
      if (properties.contains(member.key())) {
        check(properties[member.key()], member.value(), inner);
      } else if (schema.contains("additionalProperties")) {
        check(schema["additionalProperties"], member.value(), inner);
      }
    }
  }

  void check_alternatives(const json& schema, const json& value, const std::string& place) {
    for (const char* word : {"oneOf", "anyOf"}) {
      if (!schema.contains(word)) continue;
      int fitting = 0;
      for (const json& alternative : schema[word]) {
        Checker inner(root_);
        inner.check(alternative, value, place);
        if (inner.misfits.empty()) ++fitting;
      }
      const bool good = std::string(word) == "oneOf" ? fitting == 1 : fitting > 0;
      if (!good) say(place, std::to_string(fitting) + " alternatives fit");
    }
  }

  const json& root_;
};

}  // namespace

std::vector<std::string> misfits(const json& root, const json& value) {
  Checker checker(root);
  checker.check(root, value, "");
  return checker.misfits;
}

}  // namespace schema
