// Poses the facets as they are and as they would be, and asks the quick evaluation of light.
#include <algorithm>
#include <cmath>

#include "align/rounds_story.h"
#include "base/elementary.h"
#include "base/hash.h"
#include "optics/live.h"

namespace align {
namespace {

using base::Result;
using base::Vec2;

constexpr int k_draws = 4;

/// Tilt per metre of spot, of one correction.
double tilt_per_spot(const Correction& facet) {
  const double spot = glm::length(facet.spot_error_m);
  return spot > 0.0 ? glm::length(facet.tilt_error_rad) / spot : 0.0;
}

/// The share of the read tilts that remains when the readings' noise is taken off their squares.
double shrink_of(const Plan& plan, double spot_sigma_m) {
  double read = 0.0;
  double noise = 0.0;
  for (const Correction& facet : plan.facets) {
    const double tilt = glm::length(facet.tilt_error_rad);
    read += tilt * tilt;
    noise += 2.0 * std::pow(tilt_per_spot(facet) * spot_sigma_m, 2);
  }
  return read > 0.0 ? std::sqrt(std::max(0.0, 1.0 - noise / read)) : 0.0;
}

double gauss(unsigned seed, std::uint32_t facet, std::uint32_t draw, std::uint32_t axis) {
  return base::inverse_normal(base::open_unit(base::hash4({seed, facet, draw, axis})[0]));
}

/// Displacements of one facet after the told clicks, with a drawn error of the tilt.
std::array<double, 3> after_round(const dish::Dish& dish, const dish::Facet& facet,
                                  const Correction& told, unsigned seed, std::uint32_t number,
                                  std::uint32_t draw) {
  std::array<double, 3> displacement{};
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  const double noise = std::sqrt(0.5 * std::max(0.0, told.expected_rad * told.expected_rad -
                                                         told.residual_rad * told.residual_rad));
  const double alpha = noise * gauss(seed, number, draw, 0);
  const double beta = noise * gauss(seed, number, draw, 1);
  for (std::size_t k = 0; k < 3; ++k) {
    displacement[k] = told.screws[k].after_m;
    if (mount == nullptr || mount->adjusters.size() != 3) continue;
    displacement[k] += alpha * mount->adjusters[k].x_m + beta * mount->adjusters[k].y_m;
  }
  return displacement;
}

/// Where the exact correction would put the screws.
std::array<double, 3> at_aim(const Correction& facet, double of_error) {
  std::array<double, 3> displacement{};
  for (std::size_t k = 0; k < 3; ++k) {
    const ScrewCorrection& screw = facet.screws[k];
    displacement[k] = screw.now_m + (1.0 - of_error) * screw.displacement_m;
  }
  return displacement;
}

struct Lights {
  const dish::Dish& dish;
  const Plan& plan;
  std::vector<std::size_t> places;  ///< of the plan's facets in the dish
  std::optional<optics::LiveState> last;

  template <class Pose>
  Result<double> watts(const Pose& pose) {
    dish::Dish posed = dish;
    for (std::size_t i = 0; i < plan.facets.size(); ++i) {
      posed.facets[places[i]].displacement_m = pose(i);
    }
    auto state = optics::evaluate(posed, {.map_cells = 32}, last ? &*last : nullptr);
    if (!state) return state.problems();
    last = std::move(state).value();
    return last->figures.power_receiver_W;
  }
};

}  // namespace

Result<Outlook> outlook_of(const dish::Dish& dish, const Plan& plan, const StoryRequest& request) {
  Outlook outlook;
  const double shrink = shrink_of(plan, request.plan.spot_sigma_m);
  outlook.now_rad = plan.rms_tilt_rad * shrink;
  double after = 0.0;
  for (const Correction& facet : plan.facets) {
    const bool turns = facet.verdict == Verdict::turn;
    const double left = turns ? facet.expected_rad : shrink * glm::length(facet.tilt_error_rad);
    after += left * left / static_cast<double>(plan.facets.size());
  }
  outlook.after_rad = std::sqrt(after);
  if (!request.watts) return outlook;

  Lights lights{.dish = dish, .plan = plan};
  for (const Correction& facet : plan.facets) {
    lights.places.push_back(dish::find_facet(dish, facet.id));
  }
  const auto now = lights.watts([&](std::size_t i) { return at_aim(plan.facets[i], shrink); });
  const auto perfect = lights.watts([&](std::size_t i) { return at_aim(plan.facets[i], 0.0); });
  if (!now || !perfect) {
    outlook.note = "The light could not be reckoned: " +
                   base::to_line((now ? perfect : now).problems().front());
    return outlook;
  }
  double sum = 0.0;
  for (std::uint32_t draw = 0; draw < k_draws; ++draw) {
    const auto drawn = lights.watts([&](std::size_t i) {
      const Correction& facet = plan.facets[i];
      if (facet.verdict != Verdict::turn) return at_aim(facet, shrink);
      return after_round(dish, dish.facets[lights.places[i]], facet, request.seed,
                         static_cast<std::uint32_t>(lights.places[i]), draw);
    });
    if (!drawn) return drawn.problems();
    sum += drawn.value();
  }
  outlook.now_W = now.value();
  outlook.perfect_W = perfect.value();
  outlook.after_W = sum / k_draws;
  return outlook;
}

}  // namespace align
