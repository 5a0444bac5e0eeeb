// Each row changes one thing of the facet type and leaves the rest.
#include "page/bench/mirror_rows.h"

#include <fmt/format.h>

#include <array>

#include "optics/coating.h"

namespace page {
namespace {

using dish::FacetType;
using dish::ranges::Quantity;

void change_type(const FacetType& changed, session::Actions& actions) {
  actions.push_back(session::act::Change{dish::edit::UpsertFacetType{changed}});
}

void show_layers(const FacetType& type, const dish::Coating& coating, FieldMemory& memory,
                 session::Actions& actions) {
  if (const auto chosen = choice_row("cover", {"bare metal", "behind acrylic", "behind glass"},
                                     static_cast<int>(coating.cover),
                                     "Bare: a first-surface mirror. Behind a sheet: light passes "
                                     "it twice, and its face reflects a little too.")) {
    FacetType changed = type;
    changed.coating->cover = static_cast<dish::Cover>(*chosen);
    change_type(changed, actions);
  }
  if (coating.cover != dish::Cover::none) {
    number_row({"thickness", Quantity::cover_thickness, coating.thickness_m, "Of the cover"},
               memory, actions,
               changing(type, [](FacetType& t, double si) { t.coating->thickness_m = si; }));
  }
  figure_row("reflects", fmt::format("{:.1f} %", 100.0 * optics::solar_reflectance(coating)),
             "Weighted over the direct solar spectrum of ASTM G173, at normal incidence, from "
             "published optical constants. Leaves out protective lacquers, ageing and coatings "
             "that enhance.");
}

struct Bend {
  const char* label;
  Quantity quantity;
  double dish::FormError::*term;
  const char* hint;
};

constexpr std::array<Bend, 5> k_bends = {{
    {"defocus", Quantity::defocus, &dish::FormError::defocus_m,
     "Too deep (+) or too shallow (-) all round, at the edge"},
    {"astigmatism 0°", Quantity::astigmatism_0, &dish::FormError::astigmatism_0_m,
     "Bent up along u and down along v, at the edge: a saddle"},
    {"astigmatism 45°", Quantity::astigmatism_45, &dish::FormError::astigmatism_45_m,
     "The same, turned by 45°"},
    {"trefoil 0°", Quantity::trefoil_0, &dish::FormError::trefoil_0_m,
     "Three lobes, one along u: what three supports press in"},
    {"trefoil 30°", Quantity::trefoil_30, &dish::FormError::trefoil_30_m,
     "The same, turned by 30°"},
}};

void show_roll_off(const FacetType& type, FieldMemory& memory, session::Actions& actions) {
  const bool rolls = type.form_error.roll_off.has_value();
  if (const auto on = switch_row("rolled edge", rolls, "The edge leans back from its form")) {
    FacetType changed = type;
    changed.form_error.roll_off.reset();
    if (*on) changed.form_error.roll_off = dish::EdgeRollOff{};
    change_type(changed, actions);
  }
  if (!rolls) return;
  number_row({"width", Quantity::roll_off_width, type.form_error.roll_off->width_m,
              "How far inside the edge it begins"},
             memory, actions,
             changing(type, [](FacetType& t, double si) { t.form_error.roll_off->width_m = si; }));
  number_row({"slope at the edge", Quantity::roll_off_slope, type.form_error.roll_off->slope_rad,
              "Back (+) or forward (-)"},
             memory, actions, changing(type, [](FacetType& t, double si) {
               t.form_error.roll_off->slope_rad = si;
             }));
}

}  // namespace

void show_coating_rows(const FacetType& type, FieldMemory& memory, session::Actions& actions) {
  const int chosen_now = type.coating ? 1 + static_cast<int>(type.coating->metal) : 0;
  if (const auto chosen =
          choice_row("mirror", {"measured", "silver", "aluminium", "gold", "copper"}, chosen_now,
                     "A number from a measurement or a data sheet, or computed from the metal")) {
    FacetType changed = type;
    if (*chosen == 0) {
      if (type.coating) changed.reflectance = optics::solar_reflectance(*type.coating);
      changed.coating.reset();
    } else {
      changed.coating = type.coating.value_or(dish::Coating{});
      changed.coating->metal = static_cast<dish::Metal>(*chosen - 1);
    }
    change_type(changed, actions);
  }
  if (type.coating) {
    show_layers(type, *type.coating, memory, actions);
  } else {
    number_row({"reflectance", Quantity::reflectance, type.reflectance,
                "Share of sunlight reflected when clean, weighted over the solar spectrum"},
               memory, actions,
               changing(type, [](FacetType& t, double si) { t.reflectance = si; }));
  }
  number_row({"cleanliness", Quantity::cleanliness, type.cleanliness,
              "Share of the clean reflectance that dust leaves: about 0.3 % is lost a day"},
             memory, actions, changing(type, [](FacetType& t, double si) { t.cleanliness = si; }));
}

void show_roughness_rows(const FacetType& type, FieldMemory& memory, session::Actions& actions) {
  number_row({"slope error", Quantity::slope_error, type.slope_error_rad,
              "Standard deviation of the surface's normal, per axis; counts twice in the ray"},
             memory, actions,
             changing(type, [](FacetType& t, double si) { t.slope_error_rad = si; }));
  number_row({"specularity", Quantity::specularity_error, type.specularity_error_rad,
              "Standard deviation of the reflected ray, per axis; counts once"},
             memory, actions,
             changing(type, [](FacetType& t, double si) { t.specularity_error_rad = si; }));
}

void show_form_error_rows(const FacetType& type, FieldMemory& memory, session::Actions& actions) {
  for (const Bend& bend : k_bends) {
    number_row(
        {bend.label, bend.quantity, type.form_error.*bend.term, bend.hint}, memory, actions,
        changing(type, [term = bend.term](FacetType& t, double si) { t.form_error.*term = si; }));
  }
  show_roll_off(type, memory, actions);
  const dish::SharedSagMap& map = type.form_error.sag_map;
  if (!map) return;
  figure_row("measured map", fmt::format("{} × {} heights", map->columns, map->rows),
             "Of heights over the meant surface, from the dish file");
  if (wide_button("Leave the measured map out")) {
    FacetType changed = type;
    changed.form_error.sag_map.reset();
    change_type(changed, actions);
  }
}

}  // namespace page
