// Least squares for the view of a board: eight numbers of a projective map and one of a lens.
#include "photo/rectify.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "photo/homography.h"

namespace photo {
namespace {

using base::Vec2;
using base::Vec3;
constexpr std::size_t k_n = k_view_unknowns;
using Unknowns = std::array<double, k_n>;
using Square = std::array<double, k_n * k_n>;

constexpr double k_usual_focal = 0.72;
constexpr double k_k1_sigma = 0.03;
constexpr double k_most_k1 = 0.5;
constexpr std::size_t k_marks_for_k1 = 6;

base::Mat3 map_of(const Unknowns& p) {
  return {Vec3{p[0], p[3], p[6]}, Vec3{p[1], p[4], p[7]}, Vec3{p[2], p[5], 1.0}};
}

/// The middle of what a circle on the board becomes; of a point for radius 0.
/// The dual conic of a circle is diag(r^2, r^2, -1) moved to its middle; mapped, its last column
/// over its last element is the ellipse's middle.
Vec2 undistorted(const Unknowns& p, const Vec2& place, double radius) {
  const base::Mat3 map = map_of(p);
  const Vec3 middle = map * Vec3(place, 1.0);
  const double rr = radius * radius;
  const double weight = middle.z * middle.z - rr * (p[6] * p[6] + p[7] * p[7]);
  return {(middle.x * middle.z - rr * (p[0] * p[6] + p[1] * p[7])) / weight,
          (middle.y * middle.z - rr * (p[3] * p[6] + p[4] * p[7])) / weight};
}

Vec2 seen_at(const Unknowns& p, const Vec2& place, double radius) {
  const Vec2 x = undistorted(p, place, radius);
  return x * (1.0 + p[8] * glm::dot(x, x));
}

/// Lower triangle L with L L^T = a; false when a is not positive.
bool cholesky(Square& a) {
  for (std::size_t i = 0; i < k_n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double sum = a[i * k_n + j];
      for (std::size_t k = 0; k < j; ++k) sum -= a[i * k_n + k] * a[j * k_n + k];
      if (i == j && !(sum > 0.0)) return false;
      a[i * k_n + j] = i == j ? std::sqrt(sum) : sum / a[j * k_n + j];
    }
  }
  return true;
}

Unknowns solve(const Square& lower, Unknowns b) {
  for (std::size_t i = 0; i < k_n; ++i) {
    for (std::size_t k = 0; k < i; ++k) b[i] -= lower[i * k_n + k] * b[k];
    b[i] /= lower[i * k_n + i];
  }
  for (std::size_t i = k_n; i-- > 0;) {
    for (std::size_t k = i + 1; k < k_n; ++k) b[i] -= lower[k * k_n + i] * b[k];
    b[i] /= lower[i * k_n + i];
  }
  return b;
}

/// One mark in the units of the fit.
struct Sighting {
  Vec2 place{0.0, 0.0};
  double radius = 0.0;
  Vec2 seen{0.0, 0.0};
  double sigma = 1.0;
};

/// Derivatives of where a place is seen with respect to the unknowns, by central differences.
std::array<Vec2, k_n> slopes(const Unknowns& p, const Vec2& place, double radius) {
  constexpr double k_step = 1e-6;
  std::array<Vec2, k_n> result{};
  for (std::size_t k = 0; k < k_n; ++k) {
    Unknowns more = p;
    Unknowns less = p;
    more[k] += k_step;
    less[k] -= k_step;
    result[k] = (seen_at(more, place, radius) - seen_at(less, place, radius)) / (2.0 * k_step);
  }
  return result;
}

struct Normal {
  Square matrix{};
  Unknowns right{};
};

Normal normal_of(const Unknowns& p, const std::vector<Sighting>& sightings) {
  Normal normal;
  for (const Sighting& sighting : sightings) {
    const auto slope = slopes(p, sighting.place, sighting.radius);
    const Vec2 off = sighting.seen - seen_at(p, sighting.place, sighting.radius);
    const double weight = 1.0 / (sighting.sigma * sighting.sigma);
    for (std::size_t i = 0; i < k_n; ++i) {
      normal.right[i] += weight * glm::dot(slope[i], off);
      for (std::size_t j = 0; j < k_n; ++j) {
        normal.matrix[i * k_n + j] += weight * glm::dot(slope[i], slope[j]);
      }
    }
  }
  constexpr double k_prior = 1.0 / (k_k1_sigma * k_k1_sigma);
  normal.matrix[8 * k_n + 8] += k_prior;
  normal.right[8] -= k_prior * p[8];
  return normal;
}

/// Steps until they are small; false when they do not become so.
bool settle(Unknowns& p, const std::vector<Sighting>& sightings) {
  constexpr int k_most_steps = 30;
  for (int step = 0; step < k_most_steps; ++step) {
    Normal normal = normal_of(p, sightings);
    if (!cholesky(normal.matrix)) return false;
    const Unknowns change = solve(normal.matrix, normal.right);
    double largest = 0.0;
    for (std::size_t k = 0; k < k_n; ++k) {
      p[k] += change[k];
      largest = std::max(largest, std::abs(change[k]));
    }
    if (!std::isfinite(largest) || std::abs(p[8]) > k_most_k1) return false;
    if (largest < 1e-11) return true;
  }
  return false;
}

std::vector<Sighting> sightings_of(const Rectification& view, const Board& board) {
  const auto marks = marks_of(board);
  std::vector<Sighting> sightings;
  for (const SeenMark& mark : view.marks) {
    sightings.push_back({marks[mark.mark].place_m / view.unit_m, mark.radius_m / view.unit_m,
                         (mark.image_px - view.middle_px) / view.focal_px,
                         mark.sigma_px / view.focal_px});
  }
  return sightings;
}

base::Result<Unknowns> start_of(const std::vector<Sighting>& sightings, const std::string& name) {
  std::vector<MarkPair> pairs;
  for (const Sighting& sighting : sightings) pairs.push_back({sighting.seen, sighting.place});
  const auto homography = homography_through(pairs);
  if (!homography) {
    base::Problems problems = homography.problems();
    for (base::Problem& problem : problems) problem.place = name + ", " + problem.place;
    return problems;
  }
  base::Mat3 map = glm::inverse(homography.value().board_from_image);
  map *= 1.0 / map[2][2];
  return Unknowns{map[0][0], map[1][0], map[2][0], map[0][1], map[1][1],
                  map[2][1], map[0][2], map[1][2], 0.0};
}

/// Residuals, their misfit and the covariance at the settled place.
bool finish_fit(Rectification& view, const std::vector<Sighting>& sightings) {
  view.residuals_px.clear();
  double chi2 = base::square(view.unknowns[8] / k_k1_sigma);
  for (const Sighting& s : sightings) {
    const Vec2 off = s.seen - seen_at(view.unknowns, s.place, s.radius);
    view.residuals_px.push_back(off * view.focal_px);
    chi2 += glm::dot(off, off) / (s.sigma * s.sigma);
  }
  const double freedom = 2.0 * static_cast<double>(sightings.size()) - 8.0;
  view.k1_is_fitted = sightings.size() >= k_marks_for_k1;
  view.misfit = view.k1_is_fitted ? std::max(1.0, std::sqrt(chi2 / freedom)) : 1.0;
  Normal normal = normal_of(view.unknowns, sightings);
  if (!cholesky(normal.matrix)) return false;
  for (std::size_t k = 0; k < k_n; ++k) {
    Unknowns unit{};
    unit[k] = 1.0;
    const Unknowns column = solve(normal.matrix, unit);
    for (std::size_t i = 0; i < k_n; ++i) {
      view.covariance[i * k_n + k] = column[i] * view.misfit * view.misfit;
    }
  }
  return true;
}

/// The mark that fits worst when it must be left out.
std::optional<std::size_t> stray(const Rectification& view) {
  if (view.marks.size() < k_marks_for_k1) return std::nullopt;
  std::size_t worst = 0;
  double largest = 0.0;
  for (std::size_t k = 0; k < view.marks.size(); ++k) {
    const double off = glm::length(view.residuals_px[k]) / view.marks[k].sigma_px;
    if (off <= largest) continue;
    largest = off;
    worst = k;
  }
  // Half a pixel of the picture as it was looked at, which sigma_px counts in.
  const double length = glm::length(view.residuals_px[worst]);
  return largest > 5.0 && length > 0.5 ? std::optional(worst) : std::nullopt;
}

/// Before the lens: x from x (1 + k1 |x|^2), by Newton's steps on the distance.
std::optional<Vec2> straightened(const Vec2& seen, double k1) {
  const double distance = glm::length(seen);
  double r = distance;
  for (int step = 0; step < 20; ++step) {
    const double slope = 1.0 + 3.0 * k1 * r * r;
    if (!(slope > 0.05)) return std::nullopt;
    r -= (r * (1.0 + k1 * r * r) - distance) / slope;
  }
  if (!(std::abs(r * (1.0 + k1 * r * r) - distance) < 1e-9)) return std::nullopt;
  return distance > 0.0 ? seen * (r / distance) : seen;
}

}  // namespace

base::Result<Rectification> rectify(const std::vector<SeenMark>& marks, const Board& board,
                                    const Vec2& size_px, const std::string& name, double focal_px) {
  Rectification view{
      .middle_px = 0.5 * size_px,
      .focal_px = focal_px > 0.0 ? focal_px : k_usual_focal * std::max(size_px.x, size_px.y),
      .unit_m = 0.5 * std::max(board.width_m, board.height_m),
      .marks = marks};
  while (true) {
    const std::vector<Sighting> sightings = sightings_of(view, board);
    const auto start = start_of(sightings, name);
    if (!start) return start.problems();
    view.unknowns = start.value();
    if (!settle(view.unknowns, sightings) || !finish_fit(view, sightings)) {
      return base::Problem{name, "marks that fit no view of the board",
                           "marks found or pointed at in their right places"};
    }
    const auto worst = stray(view);
    if (!worst) return view;
    view.notes.push_back(fmt::format("the mark {} was left out: it is {:.1f} px from its place",
                                     marks_of(board)[view.marks[*worst].mark].name,
                                     glm::length(view.residuals_px[*worst])));
    view.marks.erase(view.marks.begin() + static_cast<std::ptrdiff_t>(*worst));
  }
}

std::optional<Vec2> to_image(const Rectification& view, const Vec2& board_m) {
  const Vec2 place = board_m / view.unit_m;
  const Vec3 p = map_of(view.unknowns) * Vec3(place, 1.0);
  if (!(p.z > 0.0)) return std::nullopt;
  return view.middle_px + view.focal_px * seen_at(view.unknowns, place, 0.0);
}

std::optional<Vec2> to_board(const Rectification& view, const Vec2& image_px) {
  const auto x = straightened((image_px - view.middle_px) / view.focal_px, view.k1());
  if (!x) return std::nullopt;
  const Vec3 p = glm::inverse(map_of(view.unknowns)) * Vec3(*x, 1.0);
  if (!(p.z > 0.0)) return std::nullopt;
  return Vec2{p.x / p.z, p.y / p.z} * view.unit_m;
}

double sigma_at(const Rectification& view, const Vec2& board_m) {
  constexpr double k_step = 1e-6;
  const Vec2 place = board_m / view.unit_m;
  const auto seen = [&](const Vec2& p) { return seen_at(view.unknowns, p, 0.0); };
  // A place that stays put in the picture moves on the board by -(d seen / d place)^-1 d seen.
  const base::Mat2 by_place{
      (seen(place + Vec2{k_step, 0.0}) - seen(place - Vec2{k_step, 0.0})) / (2.0 * k_step),
      (seen(place + Vec2{0.0, k_step}) - seen(place - Vec2{0.0, k_step})) / (2.0 * k_step)};
  const base::Mat2 back = glm::inverse(by_place);
  std::array<Vec2, k_n> moved = slopes(view.unknowns, place, 0.0);
  for (Vec2& each : moved) each = back * each;
  double sum = 0.0;
  for (std::size_t i = 0; i < k_n; ++i) {
    for (std::size_t j = 0; j < k_n; ++j) {
      sum += view.covariance[i * k_n + j] * glm::dot(moved[i], moved[j]);
    }
  }
  return view.unit_m * std::sqrt(std::max(0.5 * sum, 0.0));
}

double px_per_m(const Rectification& view, const Vec2& board_m) {
  const double step_m = 1e-6 * view.unit_m;
  const auto middle = to_image(view, board_m);
  const auto right = to_image(view, board_m + Vec2{step_m, 0.0});
  const auto up = to_image(view, board_m + Vec2{0.0, step_m});
  if (!middle || !right || !up) return 0.0;
  return std::sqrt(std::abs(base::cross(*right - *middle, *up - *middle))) / step_m;
}

}  // namespace photo
