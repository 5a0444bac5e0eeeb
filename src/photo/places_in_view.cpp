// The map through pointed places, turned round.
#include "photo/places_in_view.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace photo {
namespace {

constexpr double k_step_m = 1e-3;
constexpr double k_nowhere_px = 1e9;
constexpr double k_least_breadth = 0.05;
constexpr const char* k_well_pointed =
    "four or more, far apart, no three of the four in a line, each by its own name";

/// The inverse, its weights above zero where the camera sees.
base::Mat3 turned_round(const Homography& homography, const base::Vec2& seen_m) {
  const base::Mat3 inverse = glm::inverse(homography.board_from_image);
  const base::Vec3 seen = inverse * base::Vec3(seen_m, 1.0);
  return inverse * (seen.z < 0.0 ? -1.0 : 1.0);
}

/// Sum of squares of how far the places are from where they were pointed at.
double measure_residuals(const std::vector<MarkPair>& pointed, PlacesInView& view) {
  double sum = 0.0;
  for (const MarkPair& one : pointed) {
    const auto place = place_in_photo(view, one.board_m);
    const double off = place ? glm::distance(*place, one.image_px) : k_nowhere_px;
    sum += off * off;
    view.worst_px = std::max(view.worst_px, off);
  }
  const auto count = static_cast<double>(pointed.size());
  view.residual_px = std::sqrt(sum / count);
  // Eight numbers of the map are fitted; with four places nothing is left to judge by.
  const double freedom = 2.0 * count - 8.0;
  view.sigma_px =
      freedom > 0.0 ? std::max(k_pointing_sigma_px, std::sqrt(sum / freedom)) : k_pointing_sigma_px;
  return sum;
}

std::optional<std::size_t> worst_of(const std::vector<MarkPair>& pointed) {
  std::optional<std::size_t> worst;
  double least = 1e300;
  for (std::size_t k = 0; pointed.size() >= 6 && k < pointed.size(); ++k) {
    std::vector<MarkPair> others = pointed;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(k));
    const auto map = homography_through(others);
    if (!map) continue;
    PlacesInView view{.homography = map.value()};
    view.image_from_plane = turned_round(view.homography, others.front().board_m);
    const double sum = measure_residuals(others, view);
    if (sum >= least) continue;
    least = sum;
    worst = k;
  }
  return worst;
}

base::Problem nearly_in_line() {
  return {"facets pointed at", "nearly in one line", k_well_pointed};
}

/// Spread across the line that fits best, as a share of the spread along it.
double breadth_of(const std::vector<MarkPair>& pointed) {
  base::Vec2 middle{0.0, 0.0};
  for (const MarkPair& one : pointed) middle += one.board_m / static_cast<double>(pointed.size());
  double xx = 0.0;
  double xy = 0.0;
  double yy = 0.0;
  for (const MarkPair& one : pointed) {
    const base::Vec2 off = one.board_m - middle;
    xx += off.x * off.x;
    xy += off.x * off.y;
    yy += off.y * off.y;
  }
  const double half = 0.5 * (xx + yy);
  const double lean = std::sqrt(base::square(0.5 * (xx - yy)) + xy * xy);
  return half > 0.0 ? std::sqrt(std::max(half - lean, 0.0) / (half + lean)) : 1.0;
}

/// A map through places, or why there is none, in the words of a person who points.
base::Result<Homography> map_through_pointed(const std::vector<MarkPair>& pointed) {
  auto homography = homography_through(pointed);
  if (homography) return homography;
  base::Problems problems = homography.problems();
  for (base::Problem& problem : problems) {
    problem.place = "facets pointed at";
    if (problem.value.find("horizon") != std::string::npos) {
      problem.value = "in places that no camera sees them in";
    }
    problem.expected = k_well_pointed;
  }
  return problems;
}

}  // namespace

base::Result<PlacesInView> view_of_places(const std::vector<MarkPair>& pointed) {
  if (pointed.size() >= 4 && breadth_of(pointed) < k_least_breadth) return nearly_in_line();
  auto homography = map_through_pointed(pointed);
  if (!homography) return homography.problems();
  PlacesInView view{.homography = homography.value()};
  view.image_from_plane = turned_round(view.homography, pointed.front().board_m);
  measure_residuals(pointed, view);
  view.worst = worst_of(pointed);
  for (std::size_t k = 0; k < 2 * pointed.size(); ++k) {
    std::vector<MarkPair> nudged = pointed;
    (k % 2 == 0 ? nudged[k / 2].image_px.x : nudged[k / 2].image_px.y) += view.sigma_px;
    const auto other = map_through_pointed(nudged);
    if (!other) return nearly_in_line();
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
