// Each row changes one thing of the secondary; choosing a form starts it from sensible numbers.
#include "page/bench/secondary_rows.h"

#include <fmt/format.h>

#include <cmath>
#include <variant>

#include "dish/defaults.h"
#include "optics/merit.h"
#include "optics/two_mirror.h"

namespace page {
namespace {

using dish::Secondary;
using dish::ranges::Quantity;

template <class Change>
std::function<dish::Edit(double)> changing(const Secondary& secondary, Change change) {
  return [secondary, change](double si) {
    Secondary changed = secondary;
    change(changed, si);
    return dish::edit::SetSecondary{changed};
  };
}

/// A form to begin with: foci at the dish's focus and the receiver, radii of its own length.
dish::SecondaryForm first_form(int choice, const dish::Dish& dish) {
  const double receiver_z = dish.receiver.centre_m.z;
  switch (choice) {
    case 1:
      return dish::FlatSecondary{};
    case 2:
      return dish::HyperboloidSecondary{dish.focal_length_m, receiver_z};
    case 3:
      return dish::EllipsoidSecondary{dish.focal_length_m, receiver_z};
    case 4:
      return dish::SphereSecondary{dish.focal_length_m};
    default:
      return dish::ParaboloidSecondary{0.5 * dish.focal_length_m};
  }
}

void choose_form(int choice, const dish::Dish& dish, session::Actions& actions) {
  if (choice == 0) {
    actions.push_back(session::act::Change{dish::edit::SetSecondary{std::nullopt}});
    return;
  }
  Secondary changed = dish.secondary.value_or(dish::default_secondary(dish.focal_length_m));
  changed.form = first_form(choice, dish);
  const bool beyond = choice == 3;
  if (beyond && changed.vertex_m.z <= dish.focal_length_m) {
    changed.vertex_m.z = 1.2 * dish.focal_length_m;
  }
  if (!beyond && changed.vertex_m.z >= dish.focal_length_m) {
    changed.vertex_m.z = 0.8 * dish.focal_length_m;
  }
  actions.push_back(session::act::Change{dish::edit::SetSecondary{changed}});
}

template <class Conic>
void show_foci(const Secondary& secondary, const Conic& conic, FieldMemory& memory,
               session::Actions& actions) {
  number_row({"facets' focus", Quantity::near_focus_z, conic.near_focus_z_m,
              "Height of the point the facets send the light to"},
             memory, actions, changing(secondary, [conic](Secondary& s, double si) {
               s.form = Conic{si, conic.far_focus_z_m};
             }));
  number_row({"sends it to", Quantity::far_focus_z, conic.far_focus_z_m,
              "Height of the point the secondary sends the light to"},
             memory, actions, changing(secondary, [conic](Secondary& s, double si) {
               s.form = Conic{conic.near_focus_z_m, si};
             }));
}

void show_form(const Secondary& secondary, FieldMemory& memory, session::Actions& actions) {
  if (const auto* h = std::get_if<dish::HyperboloidSecondary>(&secondary.form)) {
    show_foci(secondary, *h, memory, actions);
  } else if (const auto* e = std::get_if<dish::EllipsoidSecondary>(&secondary.form)) {
    show_foci(secondary, *e, memory, actions);
  } else if (const auto* s = std::get_if<dish::SphereSecondary>(&secondary.form)) {
    number_row({"radius", Quantity::secondary_radius, s->radius_m,
                "Positive: bulges toward the facets; negative: hollow toward them"},
               memory, actions, changing(secondary, [](Secondary& c, double si) {
                 c.form = dish::SphereSecondary{si};
               }));
  } else if (const auto* p = std::get_if<dish::ParaboloidSecondary>(&secondary.form)) {
    number_row({"focal length", Quantity::secondary_focal_length, p->focal_length_m,
                "Positive: bulges toward the facets; negative: hollow toward them"},
               memory, actions, changing(secondary, [](Secondary& c, double si) {
                 c.form = dish::ParaboloidSecondary{si};
               }));
  }
}

optics::MirrorForm mirror_form_of(const Secondary& secondary) {
  // The same order as dish::SecondaryForm, which begins with the flat one.
  return static_cast<optics::MirrorForm>(secondary.form.index());
}

/// The secondary of another magnification that sends the light to the receiver where it stands; the
/// one there is when no place for it can be found.
dish::Edit with_magnification(const dish::Dish& dish, double magnification) {
  optics::TwoMirrorWishes wishes = optics::wishes_for(dish, mirror_form_of(*dish.secondary));
  wishes.magnification = magnification;
  wishes.receiver_z_m = dish.receiver.centre_m.z;
  wishes.hole_diameter_m = dish.secondary->hole_diameter_m;
  const auto solved = optics::solve_two_mirror(wishes);
  if (!solved) return dish::edit::SetSecondary{dish.secondary};
  return optics::edits_of(dish, solved.value()).front();
}

void show_magnification(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions) {
  const double now = optics::magnification_of(*dish.secondary, dish.focal_length_m);
  const bool is_conic = std::holds_alternative<dish::HyperboloidSecondary>(dish.secondary->form) ||
                        std::holds_alternative<dish::EllipsoidSecondary>(dish.secondary->form);
  if (!is_conic) {
    figure_row("magnification", now > 0.0 ? fmt::format("{:.2f}", now) : "none",
               "How many times the sun's image grows by it");
    return;
  }
  number_row({"magnification", Quantity::magnification, now,
              "How many times the sun's image grows by it. Changing it moves and resizes the "
              "secondary so that the receiver stays where it is."},
             memory, actions, [dish](double m) { return with_magnification(dish, m); });
}

}  // namespace

void show_secondary_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions) {
  const int now = dish.secondary ? static_cast<int>(dish.secondary->form.index()) + 1 : 0;
  if (const auto chosen =
          choice_row("form", {"none", "flat", "hyperboloid", "ellipsoid", "sphere", "paraboloid"},
                     now, "Hyperboloid: between facets and focus. Ellipsoid: beyond the focus.")) {
    choose_form(*chosen, dish, actions);
    return;
  }
  if (!dish.secondary) return;
  const Secondary& secondary = *dish.secondary;
  number_row({"above vertex", Quantity::secondary_vertex, secondary.vertex_m.z,
              "Height of its middle along the dish's axis"},
             memory, actions,
             changing(secondary, [](Secondary& s, double si) { s.vertex_m.z = si; }));
  show_form(secondary, memory, actions);
  show_magnification(dish, memory, actions);
  number_row({"diameter", Quantity::secondary_diameter, secondary.diameter_m}, memory, actions,
             changing(secondary, [](Secondary& s, double si) { s.diameter_m = si; }));
  number_row({"hole", Quantity::hole_diameter, secondary.hole_diameter_m}, memory, actions,
             changing(secondary, [](Secondary& s, double si) { s.hole_diameter_m = si; }));
  number_row({"reflectance", Quantity::reflectance, secondary.reflectance}, memory, actions,
             changing(secondary, [](Secondary& s, double si) { s.reflectance = si; }));
}

}  // namespace page
