// Turns are labels' turns; planes are places' heights.
#include "align/rewire.h"

#include "adjusters/screws.h"
#include "align/history.h"

namespace align {
namespace {

/// All that the log says was turned on a facet.
Turns logged_turns(const dish::Dish& dish, const dish::FacetId& facet, const dish::Mount& mount) {
  Turns sum{};
  for (const dish::Round& round : dish.rounds) {
    const Turns turns = turns_in(round.turned, facet, mount);
    for (std::size_t k = 0; k < 3; ++k) sum[k] += turns[k];
  }
  return sum;
}

adjusters::Bracket seats_of_mount(const dish::Mount& mount) {
  adjusters::Bracket bracket;
  for (std::size_t k = 0; k < 3; ++k) {
    bracket.seats_m[k] = {mount.adjusters[k].x_m, mount.adjusters[k].y_m};
  }
  return bracket;
}

std::array<double, 3> displacement_under(const dish::Facet& facet, const Turns& turns,
                                         const dish::Mount& before, const dish::Mount& after) {
  std::array<double, 3> unturned = facet.displacement_m;
  for (std::size_t k = 0; k < 3; ++k) {
    unturned[k] -= turns[k] * adjusters::rise_per_turn_m(before.adjusters[k]);
  }
  const auto plane = adjusters::plane_through(seats_of_mount(before), unturned);
  std::array<double, 3> displacement{};
  for (std::size_t k = 0; k < 3; ++k) {
    const dish::Adjuster& screw = after.adjusters[k];
    displacement[k] = plane.height0_m + plane.alpha * screw.x_m + plane.beta * screw.y_m +
                      turns[k] * adjusters::rise_per_turn_m(screw);
  }
  return displacement;
}

}  // namespace

dish::Mount rewired(const dish::Mount& mount, const Wiring& wiring) {
  dish::Mount really = mount;
  for (std::size_t k = 0; k < really.adjusters.size() && k < 3; ++k) {
    dish::Adjuster& screw = really.adjusters[k];
    screw = mount.adjusters[wiring.moves[k]];
    screw.label = mount.adjusters[k].label;
    const base::Vec2 place = place_under(wiring, {screw.x_m, screw.y_m});
    screw.x_m = place.x;
    screw.y_m = place.y;
    screw.pitch_m *= wiring.lead_factor;
    if (wiring.sense[k] < 0) {
      screw.hand = screw.hand == dish::Hand::right ? dish::Hand::left : dish::Hand::right;
    }
  }
  return really;
}

base::Result<std::vector<dish::Edit>> rewire(const dish::Dish& dish, const dish::MountName& name,
                                             const Wiring& wiring) {
  const dish::Mount* mount = dish::find_mount(dish, name);
  if (mount == nullptr || mount->adjusters.size() != 3) {
    return base::Problem{"mounts/" + name.text, "no mount with three adjusters", "one that has"};
  }
  const dish::Mount really = rewired(*mount, wiring);
  std::vector<dish::Edit> edits{dish::edit::UpsertMount{really}};
  for (const dish::Facet& facet : dish.facets) {
    if (facet.mount != name) continue;
    const Turns turns = logged_turns(dish, facet.id, *mount);
    const auto displacement = displacement_under(facet, turns, *mount, really);
    if (displacement == facet.displacement_m) continue;
    edits.emplace_back(dish::edit::SetDisplacements{facet.id, displacement});
  }
  return edits;
}

}  // namespace align
