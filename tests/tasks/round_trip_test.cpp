// Displaced screws make spots; the spots fed back give turns that undo the displacements.
#include <doctest/doctest.h>

#include <cmath>

#include "adjusters/screws.h"
#include "dish/defaults.h"
#include "optics/live.h"
#include "support/figures.h"
#include "tasks/align_task.h"
#include "tasks/trace_task.h"

namespace {

/// Every facet's screws off by up to 1.4 mm, its centre's height kept (equilateral screws: the sum
/// is zero), so that the third freedom is as a person who keeps the height would have it.
dish::Dish displaced_dish() {
  dish::Dish dish = dish::default_dish();
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const double angle = 2.399963 * static_cast<double>(k);
    const double size = 1e-3 * (0.4 + 0.027 * static_cast<double>(k));
    dish.facets[k].displacement_m = {size * std::cos(angle), size * std::cos(angle + 2.0943951),
                                     0.0};
    dish.facets[k].displacement_m[2] =
        -dish.facets[k].displacement_m[0] - dish.facets[k].displacement_m[1];
  }
  return dish;
}

/// The same dish as its file says it: nobody knows of the displacements yet.
dish::Dish as_known(dish::Dish dish) {
  for (dish::Facet& facet : dish.facets) facet.displacement_m = {0.0, 0.0, 0.0};
  return dish;
}

tasks::AlignRequest height_kept() {
  tasks::AlignRequest request;
  request.plan.piston = align::Piston::keep_height;
  return request;
}

double worst_left_m(const dish::Dish& hidden, const align::Plan& plan) {
  double worst = 0.0;
  for (std::size_t k = 0; k < hidden.facets.size(); ++k) {
    for (std::size_t screw = 0; screw < 3; ++screw) {
      worst = std::max(worst, std::abs(hidden.facets[k].displacement_m[screw] +
                                       plan.facets[k].screws[screw].displacement_m));
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("exact spots give turns that undo the displacements to 1 micrometre") {
  const dish::Dish hidden = displaced_dish();
  const auto live = optics::evaluate(hidden, {});
  REQUIRE(live.ok());
  tasks::AlignRequest request = height_kept();
  for (std::size_t k = 0; k < hidden.facets.size(); ++k) {
    REQUIRE(live.value().spots[k].chief_lands);
    request.round.spots.push_back({hidden.facets[k].id, live.value().spots[k].chief_m, {}});
  }
  const auto reply = tasks::run(as_known(hidden), request);
  REQUIRE(reply.ok());
  REQUIRE(reply.value().plan.facets.size() == hidden.facets.size());
  const double worst = worst_left_m(hidden, reply.value().plan);
  support::record_figure("round_trip_exact_worst_m", worst);
  CHECK(worst < 1e-6);
  for (const align::Correction& facet : reply.value().plan.facets) {
    for (const align::ScrewCorrection& screw : facet.screws) {
      CHECK(std::abs(screw.turns) == doctest::Approx(std::abs(screw.displacement_m) / 1e-3));
    }
  }
}

TEST_CASE("traced middles of whole facets' light give the turns to a few micrometres") {
  const dish::Dish hidden = displaced_dish();
  tasks::TraceRequest trace;
  trace.settings.rays = 400'000;
  const auto light = tasks::run(hidden, trace);
  REQUIRE(light.ok());
  tasks::AlignRequest request = height_kept();
  request.plan.spot_is_centroid = true;
  for (const optics::FacetFigures& facet : light.value().result.facets) {
    request.round.spots.push_back({facet.id, facet.centroid_m, {}});
  }
  const auto reply = tasks::run(as_known(hidden), request);
  REQUIRE(reply.ok());
  const double worst = worst_left_m(hidden, reply.value().plan);
  support::record_figure("round_trip_traced_worst_m", worst);
  // A twelfth of a turn is 83 micrometres; a spot good to 0.05 mm is 1 micrometre of a screw.
  CHECK(worst < 5e-6);
}

TEST_CASE("a screw that is held stays, and the others undo what was done to them") {
  dish::Dish hidden = displaced_dish();
  for (dish::Facet& facet : hidden.facets) facet.displacement_m[1] = 0.0;
  const auto live = optics::evaluate(hidden, {});
  REQUIRE(live.ok());
  tasks::AlignRequest request;
  const tasks::Keep keep = tasks::keep_of("2");
  request.plan.piston = keep.piston;
  request.plan.held_screw = keep.held_screw;
  for (std::size_t k = 0; k < hidden.facets.size(); ++k) {
    request.round.spots.push_back({hidden.facets[k].id, live.value().spots[k].chief_m, {}});
  }
  const auto reply = tasks::run(as_known(hidden), request);
  REQUIRE(reply.ok());
  for (const align::Correction& facet : reply.value().plan.facets) {
    CHECK(facet.screws[1].displacement_m == 0.0);
  }
  const double worst = worst_left_m(hidden, reply.value().plan);
  support::record_figure("round_trip_held_worst_m", worst);
  CHECK(worst < 1e-6);
}
