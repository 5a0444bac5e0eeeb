// The parts of the dish file, each read by a function of its own. They are called in the order of
// this list, so that later parts can lean on earlier ones (a surface's default is the dish's focal
// length, a facet's only type need not be named).
#pragma once

#include "dish/dish.h"
#include "dish/recipes.h"
#include "files/json_cursor.h"

namespace files {

void read_sun(ObjectReader& root, dish::Dish& dish);
void read_site(ObjectReader& root, dish::Dish& dish);
void read_facet_types(ObjectReader& root, dish::Dish& dish);
void read_springs(ObjectReader& root, dish::Dish& dish);
void read_mounts(ObjectReader& root, dish::Dish& dish);
void read_secondary(ObjectReader& root, dish::Dish& dish);
void read_receiver(ObjectReader& root, dish::Dish& dish);
void read_blockers(ObjectReader& root, dish::Dish& dish);
void read_facets(ObjectReader& root, dish::Dish& dish);
/// The layout of a file that lists no facets; three rings when it says none.
dish::Layout read_layout(ObjectReader& root, const dish::Dish& dish);
void read_rounds(ObjectReader& root, dish::Dish& dish);

/// Gives the dish the facets of a layout. `line` is where the layout stands.
void expand_layout(ReadLog& log, int line, const dish::Layout& layout, dish::Dish& dish);

/// A facet that has said nothing yet: of the only type and on the only mount, where there is only
/// one.
dish::Facet facet_of_only_kinds(const dish::Dish& dish);

/// How well a mirror reflects: "reflectance" or "coating", and "cleanliness".
void read_finish(ObjectReader& object, double& reflectance, std::optional<dish::Coating>& coating,
                 double& cleanliness);
dish::FormError read_form_error(ReadLog& log, const JsonValue& value, const std::string& place);
dish::SharedSagMap read_sag_map(ReadLog& log, const JsonValue& value, const std::string& place);

/// Reads an outline or a surface of a facet type; `f_m` is the dish's focal length.
dish::Outline read_outline(ReadLog& log, const JsonValue& value, const std::string& place);
dish::Surface read_surface(ReadLog& log, const JsonValue& value, const std::string& place,
                           double f_m);

/// Calls read(name, member, place) for every member of a named list of things such as "mounts".
/// Names that cannot be names are problems.
template <class Read>
void read_named(ObjectReader& root, const char* key, Read read) {
  const JsonValue* things = root.find_object(key);
  if (things == nullptr) return;
  for (const JsonValue& thing : things->children) {
    if (root.log().full()) return;
    const std::string place = inside(key, path_step(thing.key));
    if (thing.key.empty() || !is_name(thing.key)) {
      root.log().problem(thing.line, place, "", k_name_rule);
      continue;
    }
    read(thing.key, thing, place);
  }
}

/// Calls read(i, item, place) for every item of a list.
template <class Read>
void read_list(ObjectReader& object, const char* key, Read read) {
  const JsonValue* list = object.find_array(key);
  if (list == nullptr) return;
  for (std::size_t i = 0; i < list->children.size(); ++i) {
    if (object.log().full()) return;
    read(i, list->children[i], at_index(inside(object.place(), key), i));
  }
}

}  // namespace files
