// The whole dish as one JSON value, in the fixed order of the file.
#include "files/dish_write.h"

#include "files/dish_migrate.h"
#include "files/dish_write_parts.h"
#include "files/json_cursor.h"

namespace files {
namespace {

using dish::ranges::Quantity;

UnknownByPlace by_place(const dish::Dish& dish) {
  UnknownByPlace unknown;
  for (const dish::UnknownKey& key : dish.unknown) unknown[key.place].push_back(&key);
  return unknown;
}

/// An object with one member for each of some named things.
template <class Thing>
void add_named(ObjectWriter& root, const char* key, const std::vector<Thing>& things,
               JsonValue (*write)(const Thing&, const UnknownByPlace&),
               const UnknownByPlace& unknown) {
  if (things.empty()) return;
  ObjectWriter object;
  for (const Thing& thing : things) object.member(thing.name.text, write(thing, unknown));
  root.member(key, std::move(object).finish({}, ""));
}

/// A list whose items' places are counted.
template <class Thing>
void add_list(ObjectWriter& root, const char* key, const std::vector<Thing>& things,
              JsonValue (*write)(const Thing&, const UnknownByPlace&, const std::string&),
              const UnknownByPlace& unknown) {
  if (things.empty()) return;
  JsonValue list = empty_list();
  for (std::size_t i = 0; i < things.size(); ++i) {
    list.children.push_back(write(things[i], unknown, at_index(key, i)));
  }
  root.member(key, std::move(list));
}

/// The version of the format, or that of a newer file which was read as well as could be.
void add_version(ObjectWriter& root, const UnknownByPlace& unknown) {
  JsonValue version{.kind = JsonValue::Kind::number, .text = std::to_string(k_dish_version)};
  const auto found = unknown.find("");
  if (found != unknown.end()) {
    for (const dish::UnknownKey* key : found->second) {
      if (key->key == "version") version.text = key->json;
    }
  }
  root.member("version", std::move(version));
}

void add_sun_and_site(ObjectWriter& root, const dish::Dish& dish, const UnknownByPlace& unknown) {
  ObjectWriter sun;
  sun.number(Quantity::sun_half_angle, dish.sun.half_angle_rad);
  sun.number(Quantity::dni, dish.sun.dni_W_m2);
  add_sun_shape(sun, dish.sun.shape);
  root.member("sun", std::move(sun).finish(unknown, "sun"));
  ObjectWriter site;
  site.text("name", dish.site.name);
  site.number(Quantity::latitude, dish.site.latitude_deg);
  site.number(Quantity::longitude, dish.site.longitude_deg);
  site.number(Quantity::altitude, dish.site.altitude_m);
  root.member("site", std::move(site).finish(unknown, "site"));
}

}  // namespace

std::string write_dish(const dish::Dish& dish) {
  const UnknownByPlace unknown = by_place(dish);
  ObjectWriter root;
  root.text("format", "facetwright dish");
  add_version(root, unknown);
  root.text("name", dish.name);
  if (!dish.note.empty()) root.text("note", dish.note);
  root.number(Quantity::focal_length, dish.focal_length_m);
  add_sun_and_site(root, dish, unknown);
  root.member("receiver", write_receiver(dish.receiver, unknown));
  if (dish.secondary) root.member("secondary", write_secondary(*dish.secondary, unknown));
  add_list(root, "blockers", dish.blockers, write_blocker, unknown);
  add_named(root, "facet_types", dish.facet_types, write_facet_type, unknown);
  add_named(root, "springs", dish.springs, write_spring, unknown);
  add_named(root, "mounts", dish.mounts, write_mount, unknown);
  JsonValue facets = empty_list();
  facets.children.reserve(dish.facets.size());
  for (const dish::Facet& facet : dish.facets) {
    facets.children.push_back(write_facet(facet, unknown));
  }
  root.member("facets", std::move(facets));
  add_list(root, "rounds", dish.rounds, write_round, unknown);
  return pretty_json(std::move(root).finish(unknown, ""));
}

}  // namespace files
