// A facet with everything that holds it, looked up once: mount, spring, bracket, nominal heights,
// and what each screw may do.
#pragma once

#include <array>
#include <cstddef>
#include <string>

#include "adjusters/screws.h"
#include "adjusters/springs.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// Points into the dish it was made from, which must outlive it.
struct FacetSetup {
  const dish::Dish* dish = nullptr;
  const dish::Facet* facet = nullptr;
  const dish::Mount* mount = nullptr;
  const dish::Spring* spring = nullptr;  ///< none described: nullptr
  adjusters::FacePose nominal;
  adjusters::Bracket bracket;
  adjusters::Heights nominal_heights_m{};
  std::array<double, 3> rise_per_turn_m{};
  std::array<adjusters::Interval, 3> range{};  ///< displacements, travel and spring together

  [[nodiscard]] adjusters::Heights heights_at(const std::array<double, 3>& displacement_m) const;
};

/// Problems name the facet: as in `optics::nominal_pose` and `adjusters::bracket_of`, and a mount
/// that names a spring the dish does not have.
base::Result<FacetSetup> set_up(const dish::Dish& dish, const dish::Facet& facet);

/// Index of the screw with this label. Problem: the mount has none, or the label is empty.
base::Result<std::size_t> find_screw(const FacetSetup& setup, const std::string& label);

/// Sign of the rise that tightens: the spring's loading direction; without a spring the way a
/// clockwise turn goes when all three agree, else toward the bracket.
int tightening(const FacetSetup& setup);

}  // namespace align
