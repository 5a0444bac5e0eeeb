// How long a thousand facets take to correct and to tell apart, and thirty-six to follow a board
// that is dragged.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <numeric>

#include "align/plan.h"
#include "base/assignment.h"
#include "base/hash.h"
#include "clock.h"
#include "naming/identify.h"
#include "naming/schemes.h"
#include "practice/camera.h"
#include "practice/hidden_dish.h"

namespace {

constexpr double k_wide_m = 12.0;        ///< focal length for a thousand facets
constexpr double k_wide_before_m = 2.4;  ///< of the board before the focus

/// Hexagonal facets, 250 mm apart, on the parent paraboloid, the centre empty.
dish::Dish honeycomb(int rings, double focal_length_m) {
  constexpr double pitch_m = 0.25;
  dish::Dish dish;
  dish.focal_length_m = focal_length_m;
  dish.receiver.centre_m = {0.0, 0.0, focal_length_m};
  dish.facet_types.push_back({.name = {"tile"}});
  dish::Mount mount{.name = {"plate"}};
  for (int k = 0; k < 3; ++k) {
    const double turn = (0.25 + k / 3.0) * 6.283185307179586;
    mount.adjusters.push_back({.label = fmt::format("{}", k + 1),
                               .x_m = 0.08 * std::cos(turn),
                               .y_m = 0.08 * std::sin(turn),
                               .travel_min_m = -0.05,
                               .travel_max_m = 0.05});
  }
  dish.mounts.push_back(mount);
  for (int q = -rings; q <= rings; ++q) {
    for (int r = -rings; r <= rings; ++r) {
      if (std::abs(q + r) > rings || (q == 0 && r == 0)) continue;
      const double x = pitch_m * (q + 0.5 * r);
      const double y = pitch_m * std::sqrt(0.75) * r;
      dish.facets.push_back({.id = {fmt::format("F{}", dish.facets.size() + 1)},
                             .type = {"tile"},
                             .mount = {"plate"},
                             .centre_m = {x, y, (x * x + y * y) / (4.0 * focal_length_m)}});
    }
  }
  return dish;
}

practice::Photo photograph(const dish::Dish& dish, const align::Sighting& sighting) {
  const auto practice = practice::set_up(dish).value();
  practice::Draws draws(1, 1, 1);
  const auto hidden = practice::hide(practice, {.tilt_rad = 0.0004}, draws);
  std::vector<std::size_t> all(dish.facets.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  return practice::observe(practice, hidden, sighting, all, {.board_half_width_m = 1.2}, 0.02,
                           draws);
}

void bench_corrections() {
  const dish::Dish dish = honeycomb(18, k_wide_m);
  const auto sighting = naming::defocus_sighting(dish, k_wide_before_m);
  const auto seen = photograph(dish, sighting);
  dish::Round round{.name = "bench", .board = naming::board_before_focus(dish, k_wide_before_m)};
  for (std::size_t s = 0; s < seen.spots.size(); ++s) {
    if (seen.owners[s].size() == 1) {
      round.spots.push_back({dish.facets[seen.owners[s][0]].id, seen.spots[s].board_m, {}});
    }
  }
  std::size_t planned = 0;
  const auto plan = [&] { planned = align::make_plan(dish, round, {}).value().facets.size(); };
  // A browser compiles what is used a second time, while it runs.
  const double first = bench::seconds_of(plan);
  std::vector<double> more;
  for (int k = 0; k < 9; ++k) more.push_back(bench::seconds_of(plan));
  fmt::print("corrections with uncertainties, {} facets: {:.1f} ms, the first time {:.1f} ms\n",
             planned, 1e3 * bench::median(more), 1e3 * first);
}

void bench_assignment() {
  constexpr std::size_t k_size = 1000;
  base::CostTable random(k_size, k_size);
  std::uint32_t count = 0;
  for (double& cost : random.cost) cost = base::open_unit(base::hash4({1, 2, 3, ++count})[0]);
  for (double& cost : random.unassigned_cost) cost = 10.0;
  double total = 0.0;
  const double seconds = bench::seconds_of([&] { total = base::assign(random).cost; });
  fmt::print("assignment of 1000 x 1000 random costs: {:.0f} ms (cost {:.4f})\n", 1e3 * seconds,
             total);

  const dish::Dish dish = honeycomb(18, k_wide_m);
  const auto sighting = naming::defocus_sighting(dish, k_wide_before_m);
  std::vector<naming::FacetPrior> priors;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) priors.push_back({i, 0.0004, {}});
  const auto target = naming::target_of(dish, sighting, priors).value();
  naming::BoardLook look{.spots = photograph(dish, sighting).spots};
  look.cells.resize(dish.facets.size());
  std::iota(look.cells.begin(), look.cells.end(), std::size_t{0});
  for (const bool fits : {false, true}) {
    naming::IdentifySettings settings{.board_area_m2 = 5.76, .fits_common_shift = fits};
    std::size_t sure = 0;
    const double took = bench::seconds_of([&] {
      const auto found = naming::identify(target, {look}, settings).value();
      for (const auto& each : found.findings) sure += each.doubt == naming::Doubt::none ? 1 : 0;
    });
    fmt::print("identification of {} spots, {} the common shift: {:.0f} ms ({} sure)\n",
               look.spots.size(), fits ? "with" : "without", 1e3 * took, sure);
  }
}

void bench_dragged_board() {
  const dish::Dish dish = honeycomb(3, 2.0);
  constexpr int k_steps = 200;
  double sum = 0.0;
  const double seconds = bench::seconds_of([&] {
    for (int step = 0; step < k_steps; ++step) {
      const auto sighting = naming::defocus_sighting(dish, 0.2 + 0.001 * step);
      for (const dish::Facet& facet : dish.facets) {
        const auto setup = align::set_up(dish, facet).value();
        const auto mark = align::expected_mark(dish, facet, setup.nominal, sighting).value();
        sum += align::normal_from_spot(dish, facet, setup.nominal.normal, setup.nominal.centre,
                                       sighting, mark.board_m)
                   .value()
                   .z;
      }
    }
  });
  fmt::print("marks and poses of 36 facets on a dragged board: {:.3f} ms a step ({:.3f})\n",
             1e3 * seconds / k_steps, sum / (36 * k_steps));
}

}  // namespace

int main() {
  bench_corrections();
  bench_assignment();
  bench_dragged_board();
  return 0;
}
