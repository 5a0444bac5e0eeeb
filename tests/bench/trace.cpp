// How many rays a second one core follows, on three scenes: focusing facets on a dish, the same on
// a flat frame where neighbours block, and a dish with a secondary.
#include "optics/trace.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>

#include "optics/live.h"
#include "optics/trace_part.h"

namespace {

double cpu_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Hexagonal facets of 0.5 m on a hexagonal lattice with 10 mm gaps, focal ratio 0.6.
dish::Dish lattice(int rings, bool is_flat_frame) {
  dish::Dish dish;
  const double pitch = 0.51;
  dish.focal_length_m = 0.6 * (2 * rings + 1) * pitch;
  dish.receiver = {.shape = dish::DiscReceiver{.diameter_m = 0.05 * dish.focal_length_m},
                   .centre_m = {0.0, 0.0, dish.focal_length_m}};
  for (int q = -rings; q <= rings; ++q) {
    for (int r = -rings; r <= rings; ++r) {
      if (std::abs(q + r) > rings) continue;
      const double x = pitch * (q + 0.5 * r);
      const double y = pitch * std::sqrt(0.75) * r;
      const double z = is_flat_frame ? 0.0 : (x * x + y * y) / (4.0 * dish.focal_length_m);
      const double distance = std::hypot(std::hypot(x, y), dish.focal_length_m - z);
      const std::string name = fmt::format("F{}", dish.facets.size() + 1);
      dish.facet_types.push_back({.name = {name},
                                  .outline = dish::Hexagon{0.5},
                                  .surface = dish::Spherical{2.0 * distance}});
      dish.facets.push_back({.id = {name}, .type = {name}, .centre_m = {x, y, z}});
    }
  }
  return dish;
}

dish::Dish with_secondary(int rings) {
  dish::Dish dish = lattice(rings, false);
  const double f = dish.focal_length_m;
  dish.secondary = {.form = dish::HyperboloidSecondary{f, 0.15 * f},
                    .vertex_m = {0.0, 0.0, 0.8 * f},
                    .diameter_m = 0.4 * f};
  dish.receiver.centre_m = {0.0, 0.0, 0.15 * f};
  dish.receiver.lit_normal = {0.0, 0.0, 1.0};
  dish.receiver.shape = dish::DiscReceiver{0.15 * f};
  return dish;
}

void report(const char* name, const dish::Dish& dish) {
  const optics::TraceSettings settings{.rays = 2'000'000, .seed = 1};
  double best = 1e300;
  optics::TraceResult traced;
  for (int k = 0; k < 3; ++k) {
    const double before = cpu_seconds();
    const auto result = optics::trace(dish, settings);
    best = std::min(best, cpu_seconds() - before);
    if (!result) {
      std::printf("%s: %s\n", name, base::to_text(result.problems()).c_str());
      return;
    }
    traced = result.value();
  }
  const double before = cpu_seconds();
  auto live = optics::evaluate(dish, {});
  const double whole = cpu_seconds() - before;
  if (!live) {
    std::printf("%s: %s\n", name, base::to_text(live.problems()).c_str());
    return;
  }
  auto state = std::move(live).value();
  const double start = cpu_seconds();
  const int moves = 20;
  for (int k = 0; k < moves; ++k) {
    state = optics::reevaluate(std::move(state), dish, dish.facets.size() / 2).value();
  }
  const double one = (cpu_seconds() - start) / moves;
  std::printf(
      "%-10s %4zu facets  %6.2f Mray/s  intercept %.5f  live %.5f  whole %.2f ms  one facet %.2f "
      "ms\n",
      name, dish.facets.size(), 1e-6 * static_cast<double>(traced.rays) / best,
      traced.intercept_factor, state.figures.intercept_factor, 1e3 * whole, 1e3 * one);
}

}  // namespace

int main() {
  for (const int rings : {2, 3, 6}) {
    report("dish", lattice(rings, false));
    report("flat frame", lattice(rings, true));
    report("secondary", with_secondary(rings));
  }
}
