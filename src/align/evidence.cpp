// Readings to normals with their covariance.
#include "align/evidence.h"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <string>

#include "adjusters/screws.h"
#include "base/units.h"

namespace align {
namespace {

using base::Mat2;
using base::Mat3;
using base::Problem;
using base::Result;
using base::Vec2;
using base::Vec3;

constexpr int k_most_lean_steps = 50;
constexpr double k_lean_still = 1e-15;
constexpr double k_lean_probe_rad = 1e-6;
/// Readings whose weaker direction answers to a tilt with less than this share are no use.
constexpr double k_least_answer = 0.05;
constexpr double k_nearly_upright = 0.1;
constexpr double k_least_spread_m = 1e-3;
constexpr double k_least_spread_ratio = 0.05;

std::string place_at(const FacetSetup& setup) { return "facets/" + setup.facet->id.text; }

/// Sums of a two-parameter least-squares fit.
struct Sums {
  double xx = 0.0, xy = 0.0, yy = 0.0;
  Vec2 right{0.0, 0.0};

  void add(const Vec2& row, double left, double weight) {
    xx += weight * row.x * row.x;
    xy += weight * row.x * row.y;
    yy += weight * row.y * row.y;
    right += weight * left * row;
  }
  [[nodiscard]] double determinant() const { return xx * yy - xy * xy; }
  [[nodiscard]] Vec2 solution() const {
    return Vec2(yy * right.x - xy * right.y, xx * right.y - xy * right.x) / determinant();
  }
  [[nodiscard]] double least_eigenvalue() const {
    const double mean = 0.5 * (xx + yy);
    return mean - std::sqrt(0.25 * (xx - yy) * (xx - yy) + xy * xy);
  }
  /// Columns of the lower triangle whose product with its transpose is the inverse.
  [[nodiscard]] Mat2 root_of_inverse() const {
    const double first = std::sqrt(yy / determinant());
    const double below = -xy / determinant() / first;
    const double last = std::sqrt(std::max(0.0, xx / determinant() - below * below));
    return Mat2(Vec2(first, below), Vec2(0.0, last));
  }
};

double angle_from_nominal(const FacetSetup& setup, const Vec3& normal) {
  return std::atan2(glm::length(glm::cross(normal, setup.nominal.normal)),
                    glm::dot(normal, setup.nominal.normal));
}

/// A tilt that no mount makes, as for spots.
std::optional<Problem> too_far(const FacetSetup& setup, const Vec3& normal, const char* what) {
  const double tilt = angle_from_nominal(setup, normal);
  if (tilt <= k_most_tilt_rad) return std::nullopt;
  return Problem{
      place_at(setup),
      fmt::format("{} that ask for a tilt of {:.0f} degrees", what, base::deg_from_rad(tilt)),
      fmt::format("readings within {:.0f} degrees of nominal: check signs, directions "
                  "and the facet",
                  base::deg_from_rad(k_most_tilt_rad))};
}

/// One lean, its zero error taken out where it was read both ways.
struct CleanLean {
  double edge_rad = 0.0;
  double sine = 0.0;    ///< of the line's rise
  double weight = 0.0;  ///< of the sine
};

CleanLean clean(const dish::Lean& lean, double usual_sigma_rad) {
  double reading = lean.reading_rad;
  double sigma = lean.sigma_rad.value_or(usual_sigma_rad);
  if (lean.reversed_rad) {
    reading = 0.5 * (lean.reading_rad - *lean.reversed_rad);
    sigma *= std::sqrt(0.5);
  }
  // A reading of 90 degrees has no slope of its own; its weight stays finite.
  const double of_sine = std::max(sigma * std::cos(reading), 1e-9);
  return {lean.edge_rad, std::sin(reading), 1.0 / (of_sine * of_sine)};
}

Vec3 tilted_normal(const Vec3& normal, double clocking_rad, const Vec2& tilt) {
  const Mat3 frame = base::frame_of_normal(normal, clocking_rad);
  return base::unit(normal + tilt.x * frame[0] + tilt.y * frame[1]);
}

double rise_of(const Vec3& normal, double clocking_rad, double edge_rad, const Vec3& up) {
  const Mat3 frame = base::frame_of_normal(normal, clocking_rad);
  return glm::dot(std::cos(edge_rad) * frame[0] + std::sin(edge_rad) * frame[1], up);
}

/// How one lean's sine answers to a tilt of the normal along the facet's axes.
Vec2 answer_of(const Vec3& normal, double clocking_rad, double edge_rad, const Vec3& up) {
  Vec2 answer{0.0, 0.0};
  for (int axis = 0; axis < 2; ++axis) {
    Vec2 step{0.0, 0.0};
    step[axis] = k_lean_probe_rad;
    const double more =
        rise_of(tilted_normal(normal, clocking_rad, step), clocking_rad, edge_rad, up);
    const double less =
        rise_of(tilted_normal(normal, clocking_rad, -step), clocking_rad, edge_rad, up);
    answer[axis] = (more - less) / (2.0 * k_lean_probe_rad);
  }
  return answer;
}

/// Whether the leans can tell both tilts at all, judged where the facet should stand.
std::optional<Problem> blind(const FacetSetup& setup, const ReadLeans& read, const Vec3& up) {
  Sums answers;
  const double clocking = setup.facet->clocking_rad;
  for (const dish::Lean& lean : read.leans) {
    answers.add(answer_of(setup.nominal.normal, clocking, lean.edge_rad, up), 0.0, 1.0);
  }
  const double weakest = std::sqrt(std::max(0.0, answers.least_eigenvalue()));
  if (weakest >= k_least_answer) return std::nullopt;
  const double facing_up = std::abs(glm::dot(setup.nominal.normal, up));
  if (facing_up < k_nearly_upright) {
    return Problem{place_at(setup),
                   fmt::format("a facet that stands {:.0f} degrees from upright, whose turn about "
                               "the vertical no inclinometer sees",
                               base::deg_from_rad(std::asin(facing_up))),
                   "readings with the dish pointing higher"};
  }
  return Problem{place_at(setup), "inclinometer readings along nearly one direction",
                 "two directions on the facet, best at right angles"};
}

struct SolvedLeans {
  Vec3 normal{0.0, 0.0, 1.0};
  Sums sums;  ///< at the solution
  double misfit = 0.0;
};

std::optional<SolvedLeans> solve_leans(const FacetSetup& setup, const std::vector<CleanLean>& leans,
                                       const Vec3& up) {
  const double clocking = setup.facet->clocking_rad;
  SolvedLeans solved{.normal = setup.nominal.normal};
  for (int step = 0; step < k_most_lean_steps; ++step) {
    solved.sums = {};
    double squares = 0.0;
    for (const CleanLean& lean : leans) {
      const double left = lean.sine - rise_of(solved.normal, clocking, lean.edge_rad, up);
      solved.sums.add(answer_of(solved.normal, clocking, lean.edge_rad, up), left, lean.weight);
      squares += lean.weight * left * left;
    }
    if (!(solved.sums.determinant() > 0.0)) return std::nullopt;
    if (leans.size() > 2) {
      solved.misfit = std::sqrt(squares / static_cast<double>(leans.size() - 2));
    }
    const Vec2 tilt = solved.sums.solution();
    if (!(glm::length(tilt) < 1.0)) return std::nullopt;
    solved.normal = tilted_normal(solved.normal, clocking, tilt);
    if (glm::length(tilt) < k_lean_still) break;
  }
  return solved;
}

}  // namespace

Evidence evidence_of(const FacetSetup& setup, const Sighting& sighting, const SeenSpot& spot,
                     double sigma_m) {
  const dish::Dish* dish = setup.dish;
  const dish::Facet* facet = setup.facet;
  const Vec3 nominal = setup.nominal.normal;
  return {
      .normal_at =
          [dish, facet, nominal, sighting, at = spot.at_m](const Vec3& centre, const Vec2& step) {
            return normal_from_spot(*dish, *facet, nominal, centre, sighting, at + step);
          },
      .one_sigma = Mat2(sigma_m)};
}

Result<Evidence> evidence_of(const FacetSetup& setup, const ReadLeans& read, double sigma_rad) {
  const std::string place = place_at(setup);
  if (read.leans.size() < 2) {
    return Problem{place, "one inclinometer reading",
                   "two, along two directions, best at right angles"};
  }
  const Vec3 up{0.0, std::cos(read.elevation_rad), std::sin(read.elevation_rad)};
  if (auto problem = blind(setup, read, up)) return *std::move(problem);
  std::vector<CleanLean> leans;
  for (const dish::Lean& lean : read.leans) leans.push_back(clean(lean, sigma_rad));
  const auto solved = solve_leans(setup, leans, up);
  if (!solved) {
    return Problem{place, "inclinometer readings that no tilt of this facet explains",
                   "readings of this facet, rising positive"};
  }
  if (auto problem = too_far(setup, solved->normal, "inclinometer readings")) {
    return *std::move(problem);
  }
  const double clocking = setup.facet->clocking_rad;
  const Vec3 normal = solved->normal;
  return Evidence{
      .normal_at = [normal, clocking](const Vec3& /*centre*/, const Vec2& step) -> Result<Vec3> {
        return tilted_normal(normal, clocking, step);
      },
      .one_sigma = solved->sums.root_of_inverse(),
      .misfit = solved->misfit};
}

Result<Evidence> evidence_of(const FacetSetup& setup, const GaugedHeights& gauged,
                             double usual_sigma_m) {
  const std::string place = place_at(setup);
  if (gauged.heights.size() < 3) {
    return Problem{place, fmt::format("{} measured heights", gauged.heights.size()),
                   "three at least, not in a line"};
  }
  const auto weight_of = [&](const dish::GaugeHeight& height) {
    const double sigma = std::max(height.sigma_m.value_or(usual_sigma_m), 1e-9);
    return 1.0 / (sigma * sigma);
  };
  double weights = 0.0;
  double mean_height = 0.0;
  Vec2 middle{0.0, 0.0};
  for (const dish::GaugeHeight& height : gauged.heights) {
    weights += weight_of(height);
    middle += weight_of(height) * height.at_m;
    mean_height += weight_of(height) * height.height_m;
  }
  middle /= weights;
  mean_height /= weights;
  Sums sums;
  Sums spread;
  for (const dish::GaugeHeight& height : gauged.heights) {
    sums.add(height.at_m - middle, height.height_m - mean_height, weight_of(height));
    spread.add(height.at_m - middle, 0.0, 1.0);
  }
  const double least = std::sqrt(std::max(0.0, spread.least_eigenvalue()));
  if (least < k_least_spread_m || least < k_least_spread_ratio * std::sqrt(spread.xx + spread.yy)) {
    return Problem{place, "heights measured nearly in a line", "three places that span a triangle"};
  }
  const Vec2 slopes = sums.solution();
  double squares = 0.0;
  for (const dish::GaugeHeight& height : gauged.heights) {
    const double left = height.height_m - mean_height - glm::dot(slopes, height.at_m - middle);
    squares += weight_of(height) * left * left;
  }
  const Mat3 axes = setup.bracket.dish_from_bracket.axes;
  const auto normal_of = [axes](const Vec2& s) { return base::unit(axes * Vec3(-s.x, -s.y, 1.0)); };
  if (auto problem = too_far(setup, normal_of(slopes), "heights")) return *std::move(problem);
  const double spare = static_cast<double>(gauged.heights.size()) - 3.0;
  return Evidence{
      .normal_at = [normal_of, slopes](const Vec3& /*centre*/, const Vec2& step) -> Result<Vec3> {
        return normal_of(slopes + step);
      },
      .one_sigma = sums.root_of_inverse(),
      .misfit = spare > 0.0 ? std::sqrt(squares / spare) : 0.0};
}

Result<Evidence> evidence_of(const FacetSetup& setup, const Sighting& sighting,
                             const Observation& observation, const ReadingSigmas& sigmas) {
  if (const auto* leans = std::get_if<ReadLeans>(&observation)) {
    return evidence_of(setup, *leans, sigmas.lean_rad);
  }
  if (const auto* heights = std::get_if<GaugedHeights>(&observation)) {
    return evidence_of(setup, *heights, sigmas.height_m);
  }
  return evidence_of(setup, sighting, std::get<SeenSpot>(observation), sigmas.spot_m);
}

const char* caution_of(const dish::Source& source) {
  if (std::holds_alternative<dish::CameraSource>(source)) {
    return "Never look back with the sun within 30 degrees of the dish's axis: the dish would "
           "throw its light at the camera and at whoever stands there. Cover the facets, or wait "
           "for shade.";
  }
  if (std::holds_alternative<dish::LaserSource>(source) ||
      std::holds_alternative<dish::AimedLaserSource>(source)) {
    return "Never look into the laser or its reflection; keep eyes out of the height of its beam.";
  }
  if (std::holds_alternative<dish::SunSource>(source)) {
    return "Concentrated sunlight blinds and sets fire. Cover the facets that are not being looked "
           "at, never look into a spot or a facet without a dark filter, and keep out of the light "
           "before the dish.";
  }
  return "Keep the sun off the facets, or cover them, while a lamp lights them.";
}

}  // namespace align
