// Each row changes one thing of the type and leaves the rest.
#include "page/bench/facet_type_rows.h"

#include <algorithm>
#include <variant>

#include "page/bench/mirror_rows.h"

namespace page {
namespace {

using dish::FacetType;
using dish::ranges::Quantity;

dish::Surface first_surface(int choice, double focal_length_m) {
  switch (choice) {
    case 0:
      return dish::Flat{};
    case 1:
      return dish::Spherical{2.0 * focal_length_m};
    case 2:
      return dish::Paraboloid{focal_length_m};
    default:
      return dish::OffAxisParaboloid{.focal_length_m = focal_length_m};
  }
}

void show_surface(const FacetType& type, double focal_length_m, FieldMemory& memory,
                  session::Actions& actions) {
  if (const auto chosen =
          choice_row("form", {"flat", "spherical", "paraboloid", "piece of the parent"},
                     static_cast<int>(type.surface.index()),
                     "Paraboloid: its own vertex at the facet's centre. Piece of the parent: "
                     "off-axis, each facet as its place in the dish asks.")) {
    FacetType changed = type;
    changed.surface = first_surface(*chosen, focal_length_m);
    actions.push_back(session::act::Change{dish::edit::UpsertFacetType{changed}});
  }
  if (const auto* s = std::get_if<dish::Spherical>(&type.surface)) {
    number_row({"radius", Quantity::surface_radius, s->radius_m,
                "Of curvature; twice the distance to the focus concentrates best"},
               memory, actions,
               changing(type, [](FacetType& t, double si) { t.surface = dish::Spherical{si}; }));
  } else if (const auto* p = std::get_if<dish::Paraboloid>(&type.surface)) {
    number_row({"focal length", Quantity::surface_focal_length, p->focal_length_m}, memory, actions,
               changing(type, [](FacetType& t, double si) { t.surface = dish::Paraboloid{si}; }));
  } else if (const auto* o = std::get_if<dish::OffAxisParaboloid>(&type.surface)) {
    const dish::OffAxisParaboloid piece = *o;
    number_row({"parent's focal length", Quantity::parent_focal_length, piece.focal_length_m},
               memory, actions, changing(type, [piece](FacetType& t, double si) {
                 dish::OffAxisParaboloid changed = piece;
                 changed.focal_length_m = si;
                 t.surface = changed;
               }));
  }
}

}  // namespace

void show_facet_type_rows(const dish::Dish& dish, FieldMemory& memory, std::size_t& chosen_type,
                          session::Actions& actions) {
  if (dish.facet_types.empty()) {
    remark("This dish has no facet type yet: lay out facets first.");
    return;
  }
  std::vector<std::string> names;
  for (const FacetType& type : dish.facet_types) names.push_back(type.name.text);
  chosen_type = std::min(chosen_type, dish.facet_types.size() - 1);
  if (const auto chosen = choice_row("facet type", names, static_cast<int>(chosen_type))) {
    chosen_type = static_cast<std::size_t>(*chosen);
  }
  const FacetType& type = dish.facet_types[chosen_type];
  show_surface(type, dish.focal_length_m, memory, actions);
  show_coating_rows(type, memory, actions);
  show_roughness_rows(type, memory, actions);
}

}  // namespace page
