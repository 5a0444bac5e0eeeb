// Each row changes one thing of the sun and leaves the rest.
#include "page/bench/sun_rows.h"

#include <variant>

namespace page {
namespace {

using dish::Sun;
using dish::SunShape;
using dish::ranges::Quantity;

template <class Change>
std::function<dish::Edit(double)> changing(const Sun& sun, Change change) {
  return [sun, change](double si) {
    Sun changed = sun;
    change(changed, si);
    return dish::edit::SetSun{changed};
  };
}

SunShape first_shape(int choice) {
  switch (choice) {
    case 0:
      return dish::PillboxSun{};
    case 1:
      return dish::LimbDarkenedSun{};
    case 2:
      return dish::GaussianSun{};
    default:
      return dish::CircumsolarSun{};
  }
}

void show_shape(const Sun& sun, FieldMemory& memory, session::Actions& actions) {
  if (const auto chosen = choice_row(
          "sunshape", {"even disc", "limb darkened", "Gaussian", "with an aureole"},
          static_cast<int>(sun.shape.index()),
          "Even disc: as bright at the rim as in the middle. Limb darkened: by the linear law. "
          "With an aureole: hazy air around a darkened disc, by Buie, Monger and Dey (2003), with "
          "the ratio that really comes out.")) {
    Sun changed = sun;
    changed.shape = first_shape(*chosen);
    actions.push_back(session::act::Change{dish::edit::SetSun{changed}});
  }
  if (const auto* limb = std::get_if<dish::LimbDarkenedSun>(&sun.shape)) {
    number_row({"coefficient", Quantity::limb_darkening, limb->coefficient,
                "u of I = 1 - u (1 - mu): 0 is an even disc, 0.6 the grey atmosphere"},
               memory, actions,
               changing(sun, [](Sun& s, double si) { s.shape = dish::LimbDarkenedSun{si}; }));
  } else if (const auto* gaussian = std::get_if<dish::GaussianSun>(&sun.shape)) {
    number_row({"sigma", Quantity::sun_sigma, gaussian->sigma_rad, "Standard deviation per axis"},
               memory, actions,
               changing(sun, [](Sun& s, double si) { s.shape = dish::GaussianSun{si}; }));
  } else if (const auto* hazy = std::get_if<dish::CircumsolarSun>(&sun.shape)) {
    number_row({"circumsolar ratio", Quantity::circumsolar_ratio, hazy->ratio,
                "Share of the direct light that comes from the aureole: 0.05 on a clear day, 0.2 "
                "and more in haze"},
               memory, actions,
               changing(sun, [](Sun& s, double si) { s.shape = dish::CircumsolarSun{si}; }));
  }
}

}  // namespace

void show_sun_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions) {
  const Sun& sun = dish.sun;
  number_row({"direct light", Quantity::dni, sun.dni_W_m2,
              "Direct normal irradiance, the aureole included"},
             memory, actions, changing(sun, [](Sun& s, double si) { s.dni_W_m2 = si; }));
  show_shape(sun, memory, actions);
  if (std::holds_alternative<dish::PillboxSun>(sun.shape) ||
      std::holds_alternative<dish::LimbDarkenedSun>(sun.shape)) {
    number_row({"half angle", Quantity::sun_half_angle, sun.half_angle_rad,
                "Of the disc: 4.58 mrad in July to 4.73 mrad in January"},
               memory, actions, changing(sun, [](Sun& s, double si) { s.half_angle_rad = si; }));
  }
}

}  // namespace page
