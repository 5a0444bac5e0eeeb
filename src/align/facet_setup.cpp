// Look-ups for one facet.
#include "align/facet_setup.h"

#include <fmt/format.h>

#include "optics/canting.h"

namespace align {

adjusters::Heights FacetSetup::heights_at(const std::array<double, 3>& displacement_m) const {
  adjusters::Heights heights = nominal_heights_m;
  for (std::size_t k = 0; k < 3; ++k) heights[k] += displacement_m[k];
  return heights;
}

base::Result<FacetSetup> set_up(const dish::Dish& dish, const dish::Facet& facet) {
  FacetSetup setup{.dish = &dish, .facet = &facet};
  const auto nominal = optics::nominal_pose(dish, facet);
  if (!nominal) return nominal.problems();
  setup.nominal = nominal.value();
  setup.mount = dish::find_mount(dish, facet.mount);
  const auto bracket = adjusters::bracket_of(facet, setup.mount, setup.nominal);
  if (!bracket) return bracket.problems();
  setup.bracket = bracket.value();
  setup.nominal_heights_m = adjusters::heights_from_pose(setup.bracket, setup.nominal);
  if (!setup.mount->spring.text.empty()) {
    setup.spring = dish::find_spring(dish, setup.mount->spring);
    if (setup.spring == nullptr) {
      return base::Problem{
          fmt::format("facets/{} on mount \"{}\"", facet.id.text, setup.mount->name.text),
          fmt::format("spring \"{}\"", setup.mount->spring.text),
          "the name of a spring of this dish"};
    }
  }
  for (std::size_t k = 0; k < 3; ++k) {
    setup.rise_per_turn_m[k] = adjusters::rise_per_turn_m(setup.mount->adjusters[k]);
    setup.range[k] = adjusters::working_range(setup.mount->adjusters[k], setup.spring);
  }
  return setup;
}

base::Result<std::size_t> find_screw(const FacetSetup& setup, const std::string& label) {
  const auto& screws = setup.mount->adjusters;
  for (std::size_t k = 0; k < screws.size(); ++k) {
    if (!label.empty() && screws[k].label == label) return k;
  }
  return base::Problem{"facets/" + setup.facet->id.text,
                       fmt::format("no screw \"{}\" to hold", label),
                       fmt::format("one of \"{}\", \"{}\", \"{}\"", screws[0].label,
                                   screws[1].label, screws[2].label)};
}

int tightening(const FacetSetup& setup) {
  const int loading = adjusters::loading_direction(setup.spring);
  if (loading != 0) return loading;
  const auto& rise = setup.rise_per_turn_m;
  return rise[0] > 0.0 && rise[1] > 0.0 && rise[2] > 0.0 ? 1 : -1;
}

}  // namespace align
