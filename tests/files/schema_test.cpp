// The published schema and the reader say the same: keys, ranges and whole files.
#include <doctest/doctest.h>

#include <map>
#include <set>

#include "dish/ranges.h"
#include "everything.h"
#include "files/dish_keys.h"
#include "files/dish_write.h"
#include "files/unit_text.h"
#include "schema_check.h"
#include "support/demo_dishes.h"
#include "support/paths.h"

namespace {

using nlohmann::json;

json published_schema() {
  return json::parse(support::read_whole_file(support::source_path("web/dish.schema.json")));
}

/// The schemas of one kind's keys, from all its alternatives.
std::multimap<std::string, json> keys_of_kind(const json& kind) {
  std::multimap<std::string, json> keys;
  const json common = kind.value("properties", json::object());
  for (const auto& property : common.items()) keys.emplace(property.key(), property.value());
  for (const json& alternative : kind.value("oneOf", json::array())) {
    const json own = alternative.value("properties", json::object());
    for (const auto& property : own.items()) keys.emplace(property.key(), property.value());
  }
  return keys;
}

/// Every "kind/key" of the schema with the schemas it has.
std::multimap<std::string, json> keys_of_schema() {
  std::multimap<std::string, json> keys;
  const json root = published_schema();
  for (const auto& kind : root["$defs"].items()) {
    for (const auto& [key, schema] : keys_of_kind(kind.value())) {
      keys.emplace(kind.key() + "/" + key, schema);
    }
  }
  return keys;
}

files::AskedKeys all_asked() {
  files::AskedKeys asked;
  for (const std::string& text : everything::texts()) {
    const files::AskedKeys more = files::keys_asked_for(text);
    asked.insert(more.begin(), more.end());
  }
  return asked;
}

/// "least..most" of a number's schema, or of the items of a list's.
std::string limits_of(const json& schema) {
  if (schema.contains("items")) return limits_of(schema["items"]);
  if (schema.contains("anyOf")) return "+-" + limits_of(schema["anyOf"][0]);
  return files::text_from_si(dish::ranges::Unit::none, schema["minimum"].get<double>()) + ".." +
         files::text_from_si(dish::ranges::Unit::none, schema["maximum"].get<double>());
}

std::string limits_of(dish::ranges::Quantity quantity) {
  const dish::ranges::Range& range = dish::ranges::of(quantity);
  const bool either = range.kind == dish::ranges::Kind::either_sign;
  return (either ? "+-" : "") + files::text_from_si(range.unit, range.least) + ".." +
         files::text_from_si(range.unit, range.most);
}

}  // namespace

TEST_CASE("the schema describes exactly the keys the reader asks for") {
  std::set<std::string> described;
  for (const auto& [key, schema] : keys_of_schema()) described.insert(key);
  std::set<std::string> asked;
  for (const auto& [key, quantity] : all_asked()) asked.insert(key);
  for (const std::string& key : asked) CHECK_MESSAGE(described.count(key) == 1, key);
  for (const std::string& key : described) CHECK_MESSAGE(asked.count(key) == 1, key);
  CHECK(asked.size() > 100);
}

TEST_CASE("the schema gives every number the range the reader holds it to") {
  std::map<std::string, std::set<std::string>> limits_held;
  for (const auto& [key, quantity] : all_asked()) {
    if (quantity == files::k_no_quantity) continue;
    limits_held[key].insert(limits_of(static_cast<dish::ranges::Quantity>(quantity)));
  }
  std::map<std::string, std::set<std::string>> limits_described;
  for (const auto& [key, schema] : keys_of_schema()) {
    if (limits_held.count(key) == 1) limits_described[key].insert(limits_of(schema));
  }
  CHECK(limits_held.size() > 70);
  for (const auto& entry : limits_held) {
    CAPTURE(entry.first);
    CHECK(entry.second == limits_described[entry.first]);
  }
}

TEST_CASE("every key of the schema is described in words") {
  for (const auto& entry : keys_of_schema()) {
    const auto& schema = entry.second;
    const bool has_words = schema.contains("description") || schema.contains("$ref") ||
                           (schema.contains("const") && schema.size() == 1);
    CHECK_MESSAGE(has_words, entry.first);
  }
}

TEST_CASE("files that are written fit the schema") {
  const json root = published_schema();
  std::vector<std::string> texts = everything::texts();
  texts.push_back(everything::minimal_text());
  for (const auto& demo :
       {support::larch_refuge(), support::kiln_yard(), support::orchard_dryer()}) {
    texts.push_back(files::write_dish(demo));
  }
  for (const std::string& text : texts) {
    const std::vector<std::string> misfits = schema::misfits(root, json::parse(text));
    CHECK_MESSAGE(misfits.empty(), (misfits.empty() ? "" : misfits.front()));
  }
}

TEST_CASE("files that are refused for a value do not fit the schema either") {
  const json root = published_schema();
  const json good = json::parse(everything::texts().front());
  const auto spoilt = [&](const char* place, const json& value) {
    json bad = good;
    bad[json::json_pointer(place)] = value;
    return !schema::misfits(root, bad).empty();
  };
  CHECK(schema::misfits(root, good).empty());
  CHECK(spoilt("/format", "dish"));
  CHECK(spoilt("/focal_length_m", 0));
  CHECK(spoilt("/facets/0/centre_mm", {1, 2}));
  CHECK(spoilt("/facets/0/id", 5));
  CHECK(spoilt("/mounts/plate/adjusters/0/pitch_mm", 0));
  CHECK(spoilt("/mounts/plate/adjusters/0/hand", "both"));
  CHECK(spoilt("/mounts/plate/clicks_per_turn", 2.5));
  CHECK(spoilt("/facet_types/rectangle/surface/radius_m", 0));
  CHECK(spoilt("/facet_types/rectangle/outline/shape", "star"));
  CHECK(spoilt("/rounds/0/source", json::object()));
}
