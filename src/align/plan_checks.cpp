// What a round and a request must be for a plan, in the words of what is expected instead.
#include "align/plan_checks.h"

#include <fmt/format.h>

#include <cmath>
#include <string>

#include "base/units.h"

namespace align {
namespace {

using base::Problems;

constexpr int k_most_clicks = 360;

void register_spot(const dish::Spot& spot, SpotRegister& known, Problems& problems) {
  const std::string place = "spot of facet \"" + spot.facet.text + "\"";
  const auto found = known.facets.find(spot.facet);
  if (found == known.facets.end()) {
    problems.push_back({place, "no such facet", "the name of a facet of this dish"});
  } else if (known.spots[found->second] != nullptr) {
    problems.push_back({place, "given twice", "one spot for each facet"});
  } else {
    known.spots[found->second] = &spot;
  }
  if (!(std::isfinite(spot.seen_m.x) && std::isfinite(spot.seen_m.y))) {
    problems.push_back({place, fmt::format("({}, {})", spot.seen_m.x, spot.seen_m.y),
                        "two numbers, right and up"});
  }
  if (spot.sigma_m && !(*spot.sigma_m > 0.0 && std::isfinite(*spot.sigma_m))) {
    problems.push_back({place, fmt::format("a sigma of {} mm", base::mm_from_m(*spot.sigma_m)),
                        "a sigma above zero"});
  }
}

}  // namespace

SpotRegister::SpotRegister(const dish::Dish& dish) : spots(dish.facets.size(), nullptr) {
  for (std::size_t i = 0; i < dish.facets.size(); ++i) facets.emplace(dish.facets[i].id, i);
}

Problems check_plan(const dish::Round& round, const PlanRequest& request, SpotRegister& known) {
  Problems problems;
  const std::string place = "round \"" + round.name + "\"";
  if (!dish::has_observations(round)) {
    problems.push_back({place, "no spots",
                        "at least one observed spot, or readings of an "
                        "inclinometer or a height gauge"});
  }
  if (round.board && !(glm::length(round.board->lit_normal) > 1e-9)) {
    problems.push_back({place + ", board", "a lit normal of no length", "a direction"});
  }
  if (request.clicks_per_turn &&
      !(*request.clicks_per_turn >= 1 && *request.clicks_per_turn <= k_most_clicks)) {
    problems.push_back({"clicks per turn", fmt::format("{}", *request.clicks_per_turn),
                        fmt::format("1 to {}", k_most_clicks)});
  }
  for (const double sigma : {request.spot_sigma_m, request.turn_sigma_turns, request.lean_sigma_rad,
                             request.height_sigma_m}) {
    if (!(sigma >= 0.0 && std::isfinite(sigma))) {
      problems.push_back({"sigma", fmt::format("{}", sigma), "zero or more"});
    }
  }
  for (const dish::Spot& spot : round.spots) register_spot(spot, known, problems);
  return problems;
}

}  // namespace align
