// The facets, one by one.
#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

/// The only one of some named things, or an empty name.
template <class Thing>
auto only_name(const std::vector<Thing>& things) {
  return things.size() == 1 ? things.front().name : decltype(things.front().name){};
}

dish::Bracket read_bracket(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::Bracket bracket;
  ObjectReader object(log, value, place, "bracket");
  object.require("origin_mm", "the bracket's origin in the dish frame");
  object.vec3("origin_mm", Quantity::centre, bracket.origin_m);
  object.vec3("x", Quantity::direction, bracket.x);
  object.vec3("y", Quantity::direction, bracket.y);
  object.finish();
  return bracket;
}

/// "facets/A3" once the id is known, else "facets[12]".
std::string place_of(const JsonValue& value, const std::string& by_index) {
  const JsonValue* id = find_member(value, "id");
  const bool named = id != nullptr && id->kind == JsonValue::Kind::string && is_name(id->text);
  return named ? inside("facets", path_step(id->text)) : by_index;
}

dish::Facet read_facet(ReadLog& log, const JsonValue& value, const std::string& place,
                       const dish::Facet& common) {
  dish::Facet facet = common;
  ObjectReader object(log, value, place, "facet");
  object.require("id", "a name that no other facet has");
  object.require("centre_mm", "its centre in the dish frame, [x, y, z]");
  object.name("id", facet.id.text);
  object.name("type", facet.type.text);
  object.name("mount", facet.mount.text);
  object.vec3(Quantity::centre, facet.centre_m);
  object.number(Quantity::clocking, facet.clocking_rad);
  object.vec2(Quantity::aim, facet.aim_m);
  base::Vec3 normal{0.0, 0.0, 1.0};
  if (object.direction("normal", normal)) facet.normal = normal;
  if (const JsonValue* bracket = object.find("bracket")) {
    facet.bracket = read_bracket(log, *bracket, inside(place, "bracket"));
  }
  if (const JsonValue* map = object.find("sag_map")) {
    facet.sag_map = read_sag_map(log, *map, inside(place, "sag_map"));
  }
  object.numbers("displacement_mm", Quantity::displacement, facet.displacement_m.data(), 3);
  object.finish();
  return facet;
}

}  // namespace

dish::Facet facet_of_only_kinds(const dish::Dish& dish) {
  return {.type = only_name(dish.facet_types), .mount = only_name(dish.mounts)};
}

void read_facets(ObjectReader& root, dish::Dish& dish) {
  const dish::Facet common = facet_of_only_kinds(dish);
  read_list(root, "facets", [&](std::size_t, const JsonValue& item, const std::string& by_index) {
    dish.facets.push_back(read_facet(root.log(), item, place_of(item, by_index), common));
  });
}

}  // namespace files
