// The map through pointed places, turned round.
#include "photo/places_in_view.h"

#include <algorithm>
#include <cmath>

namespace photo {
namespace {

constexpr double k_step_m = 1e-3;
constexpr double k_nowhere_px = 1e9;

/// The inverse, its weights above zero where the camera sees.
base::Mat3 turned_round(const Homography& homography, const base::Vec2& seen_m) {
  const base::Mat3 inverse = glm::inverse(homography.board_from_image);
  const base::Vec3 seen = inverse * base::Vec3(seen_m, 1.0);
  return inverse * (seen.z < 0.0 ? -1.0 : 1.0);
}

void measure_residuals(const std::vector<MarkPair>& pointed, PlacesInView& view) {
  double sum = 0.0;
  for (std::size_t k = 0; k < pointed.size(); ++k) {
    const auto place = place_in_photo(view, pointed[k].board_m);
    const double off = place ? glm::distance(*place, pointed[k].image_px) : 0.0;
    sum += off * off;
    if (off <= view.worst_px) continue;
    view.worst_px = off;
    view.worst = k;
  }
  const auto count = static_cast<double>(pointed.size());
  view.residual_px = std::sqrt(sum / count);
  // Eight numbers of the map are fitted; with four places nothing is left to judge by.
  const double freedom = 2.0 * count - 8.0;
  view.sigma_px =
      freedom > 0.0 ? std::max(k_pointing_sigma_px, std::sqrt(sum / freedom)) : k_pointing_sigma_px;
}

/// A map through places, or why there is none, in the words of a person who points.
base::Result<Homography> map_through_pointed(const std::vector<MarkPair>& pointed) {
  auto homography = homography_through(pointed);
  if (homography) return homography;
  base::Problems problems = homography.problems();
  for (base::Problem& problem : problems) {
    problem.place = "facets pointed at";
    problem.expected =
        "four or more, far apart, no three of the four in a line, each by its own name";
  }
  return problems;
}

}  // namespace

base::Result<PlacesInView> view_of_places(const std::vector<MarkPair>& pointed) {
  auto homography = map_through_pointed(pointed);
  if (!homography) return homography.problems();
  PlacesInView view{.homography = homography.value()};
  view.image_from_plane = turned_round(view.homography, pointed.front().board_m);
  measure_residuals(pointed, view);
  for (std::size_t k = 0; k < 2 * pointed.size(); ++k) {
    std::vector<MarkPair> nudged = pointed;
    (k % 2 == 0 ? nudged[k / 2].image_px.x : nudged[k / 2].image_px.y) += view.sigma_px;
    const auto other = map_through_pointed(nudged);
    if (!other) return other.problems();
    view.nudged.push_back(turned_round(other.value(), pointed.front().board_m));
  }
  return view;
}

double sigma_px_at(const PlacesInView& view, const base::Vec2& plane_m) {
  const auto here = place_in_photo(view, plane_m);
  double sum = 0.0;
  for (const base::Mat3& nudged : view.nudged) {
    const auto there = mapped(nudged, plane_m);
    if (!here || !there) return k_nowhere_px;
    sum += 0.5 * glm::dot(*there - *here, *there - *here);
  }
  return std::sqrt(sum);
}

std::optional<base::Vec2> place_in_photo(const PlacesInView& view, const base::Vec2& plane_m) {
  return mapped(view.image_from_plane, plane_m);
}

double px_per_m_at(const PlacesInView& view, const base::Vec2& plane_m) {
  const auto here = place_in_photo(view, plane_m);
  if (!here) return 0.0;
  double least = 1e300;
  for (const base::Vec2& way : {base::Vec2{1.0, 0.0}, base::Vec2{0.0, 1.0},
                                base::Vec2{0.7071, 0.7071}, base::Vec2{0.7071, -0.7071}}) {
    const auto there = place_in_photo(view, plane_m + k_step_m * way);
    if (!there) return 0.0;
    least = std::min(least, glm::distance(*here, *there) / k_step_m);
  }
  return least;
}

}  // namespace photo
