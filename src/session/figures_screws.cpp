// What the dial of a screw shows, and what turning it would do to the dish.
#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "session/figures.h"

namespace session {
namespace {

const dish::Mount* mount_of(const Session& session, std::size_t facet) {
  const dish::Dish& dish = session.document.dish;
  if (facet >= dish.facets.size()) return nullptr;
  const dish::Mount* mount = dish::find_mount(dish, dish.facets[facet].mount);
  return mount != nullptr && mount->adjusters.size() == 3 ? mount : nullptr;
}

/// Turns as the angle of a slot, whole turns taken off, clockwise as the person sees it.
double dial_angle_rad(double turns, bool seen_from_behind_it) {
  const double seen = seen_from_behind_it ? -turns : turns;
  return 2.0 * base::k_pi * (seen - std::floor(seen));
}

int clicks_of(const Session& session, const dish::Mount& mount) {
  return session.plan_request.clicks_per_turn.value_or(mount.clicks_per_turn);
}

}  // namespace

const dish::Adjuster* adjuster_of(const Session& session, std::size_t facet, int screw) {
  const dish::Mount* mount = mount_of(session, facet);
  if (mount == nullptr || screw < 0 || screw > 2) return nullptr;
  return &mount->adjusters[static_cast<std::size_t>(screw)];
}

std::optional<ScrewFigures> screw_figures(const Session& session, std::size_t facet, int screw) {
  const dish::Adjuster* adjuster = adjuster_of(session, facet, screw);
  if (adjuster == nullptr) return {};
  const auto k = static_cast<std::size_t>(screw);
  const dish::Dish& dish = session.document.dish;
  const dish::Mount& mount = *mount_of(session, facet);
  const dish::Spring* spring = dish::find_spring(dish, mount.spring);
  const double displacement_m = dish.facets[facet].displacement_m[k];
  ScrewFigures figures{.label = adjuster->label, .displacement_m = displacement_m};
  figures.turns = adjusters::turns_from_rise(*adjuster, displacement_m);
  figures.seen_from_behind_it = adjuster->turned_from != side_of(session);
  figures.dial_angle_rad = dial_angle_rad(figures.turns, figures.seen_from_behind_it);
  figures.clicks_per_turn = clicks_of(session, mount);
  figures.click_m = adjusters::rise_per_turn_m(*adjuster) / figures.clicks_per_turn;
  figures.travel_left = adjusters::travel_left(*adjuster, spring, displacement_m);
  figures.spring = adjusters::spring_at(spring, displacement_m);
  if (is_fresh(session, session.presets)) {
    figures.caliper_m = (*session.presets.value)[facet].screws[k].caliper_m;
    figures.caliper_now_m = figures.caliper_m + displacement_m;
  }
  return figures;
}

double displacement_of_turns(const dish::Adjuster& adjuster, double turns) {
  return turns * adjusters::rise_per_turn_m(adjuster);
}

double within_travel(const dish::Adjuster& adjuster, double displacement_m) {
  return std::clamp(displacement_m, adjuster.travel_min_m, adjuster.travel_max_m);
}

std::optional<dish::Edit> turn_by_clicks(const Session& session, std::size_t facet, int screw,
                                         int clicks) {
  const auto figures = screw_figures(session, facet, screw);
  if (!figures) return {};
  const dish::Adjuster& adjuster = *adjuster_of(session, facet, screw);
  const double wanted_m = figures->displacement_m + clicks * figures->click_m;
  // A click that ends on the stop itself must not fail by a rounding.
  constexpr double k_rounding_m = 1e-12;
  if (std::abs(within_travel(adjuster, wanted_m) - wanted_m) > k_rounding_m) return {};
  return dish::edit::SetDisplacement{.facet = session.document.dish.facets[facet].id,
                                     .screw = screw,
                                     .displacement_m = within_travel(adjuster, wanted_m)};
}

}  // namespace session
