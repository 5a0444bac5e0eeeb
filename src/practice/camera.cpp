// Exact chief rays, then all that happens to their spots.
#include "practice/camera.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "align/solve.h"

namespace practice {
namespace {

using base::Vec2;

constexpr double k_sun_disc_rad = 0.0093;  ///< 32 arc minutes

struct Blob {
  Vec2 board_m{0.0, 0.0};
  double flux = 0.0;
  std::vector<std::size_t> owners;
};

/// Runs blobs together that are nearer than `apart_m`, by chains, to their middle by light.
std::vector<Blob> run_together(const std::vector<Blob>& blobs, double apart_m) {
  std::vector<std::size_t> head(blobs.size());
  std::iota(head.begin(), head.end(), std::size_t{0});
  for (std::size_t i = 0; i < blobs.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (head[i] == head[j] || glm::distance(blobs[i].board_m, blobs[j].board_m) >= apart_m) {
        continue;
      }
      const std::size_t low = std::min(head[i], head[j]);
      const std::size_t high = std::max(head[i], head[j]);
      std::replace(head.begin(), head.end(), high, low);
    }
  }
  std::vector<Blob> merged;
  for (std::size_t h = 0; h < blobs.size(); ++h) {
    if (head[h] != h) continue;
    Blob whole;
    for (std::size_t i = h; i < blobs.size(); ++i) {
      if (head[i] != h) continue;
      whole.board_m += blobs[i].flux * blobs[i].board_m;
      whole.flux += blobs[i].flux;
      whole.owners.insert(whole.owners.end(), blobs[i].owners.begin(), blobs[i].owners.end());
    }
    whole.board_m /= whole.flux;
    merged.push_back(std::move(whole));
  }
  return merged;
}

Vec2 noise(double sigma, Draws& draws) {
  const double x = draws.normal();
  return {sigma * x, sigma * draws.normal()};
}

}  // namespace

double spot_diameter_m(double focal_length_m, double before_focus_m, double hole_m) {
  return hole_m * before_focus_m / focal_length_m +
         k_sun_disc_rad * (focal_length_m - before_focus_m);
}

Photo observe(const DishSetup& practice, const Hidden& hidden, const align::Sighting& sighting,
              const std::vector<std::size_t>& uncovered, const Camera& camera, double diameter_m,
              Draws& draws) {
  std::vector<Blob> blobs;
  const double half = camera.board_half_width_m;
  for (const std::size_t i : uncovered) {
    const align::FacetSetup& setup = practice.setups[i];
    const auto pose =
        align::pose_at(setup, setup.heights_at(hidden.displacement_m[i]), align::Pivot::mount);
    const auto mark = align::expected_mark(*practice.dish, *setup.facet, pose, sighting);
    if (!mark || draws.chance(camera.missed)) continue;
    const Vec2 at = mark.value().board_m;
    if (half > 0.0 && std::max(std::abs(at.x), std::abs(at.y)) > half) continue;
    blobs.push_back({at, 1.0, {i}});
  }
  Photo seen;
  blobs = run_together(blobs, camera.merged_below * diameter_m);
  const std::size_t strangers = draws.poisson(camera.false_spots);
  const double reach = half > 0.0 ? half : 0.25 * practice.dish->focal_length_m;
  for (std::size_t k = 0; k < strangers; ++k) {
    const double right = (2.0 * draws.uniform() - 1.0) * reach;
    blobs.push_back({{right, (2.0 * draws.uniform() - 1.0) * reach}, 1.0, {}});
  }
  for (Blob& blob : blobs) {
    blob.board_m += noise(camera.spot_sigma_m, draws);
    blob.flux *= std::max(0.1, 1.0 + camera.flux_sigma * draws.normal());
  }
  std::stable_sort(blobs.begin(), blobs.end(), [](const Blob& one, const Blob& other) {
    return one.board_m.x < other.board_m.x;
  });
  for (Blob& blob : blobs) {
    seen.spots.push_back(
        {.board_m = blob.board_m, .sigma_m = camera.spot_sigma_m, .flux = blob.flux});
    seen.owners.push_back(std::move(blob.owners));
  }
  return seen;
}

}  // namespace practice
