// The projective map through marks, by the normalised direct linear transform.
#include "photo/homography.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace photo {
namespace {

using base::Problem;
using base::Vec2;
using base::Vec3;

constexpr double k_least_spread = 1e-9;
constexpr double k_least_gap = 1e-9;  ///< second smallest singular value over the largest

/// x' = scale (x - mean): mean 0 and mean distance sqrt 2.
struct Normaliser {
  Vec2 mean{0.0, 0.0};
  double scale = 0.0;

  [[nodiscard]] base::Mat3 matrix() const {
    return {Vec3{scale, 0.0, 0.0}, Vec3{0.0, scale, 0.0},
            Vec3{-scale * mean.x, -scale * mean.y, 1.0}};
  }
};

Normaliser normaliser_of(const std::vector<MarkPair>& marks, Vec2 MarkPair::*side) {
  Normaliser normaliser;
  const auto count = static_cast<double>(marks.size());
  for (const MarkPair& mark : marks) normaliser.mean += mark.*side / count;
  double distance = 0.0;
  for (const MarkPair& mark : marks) {
    distance += glm::distance(mark.*side, normaliser.mean) / count;
  }
  normaliser.scale = distance > k_least_spread ? std::sqrt(2.0) / distance : 0.0;
  return normaliser;
}

using Row = std::array<double, 9>;

/// Two rows for each mark: the cross product of board and H image vanishes.
std::vector<Row> equations(const std::vector<MarkPair>& marks, const Normaliser& image,
                           const Normaliser& board) {
  std::vector<Row> rows;
  for (const MarkPair& mark : marks) {
    const Vec2 p = image.scale * (mark.image_px - image.mean);
    const Vec2 q = board.scale * (mark.board_m - board.mean);
    rows.push_back({-p.x, -p.y, -1.0, 0.0, 0.0, 0.0, q.x * p.x, q.x * p.y, q.x});
    rows.push_back({0.0, 0.0, 0.0, -p.x, -p.y, -1.0, q.y * p.x, q.y * p.y, q.y});
  }
  return rows;
}

/// Singular values of nine columns, from the largest, and the direction of the smallest.
struct Singular {
  std::array<double, 9> sizes{};
  Row smallest{};
};

double dot(const std::vector<Row>& rows, std::size_t i, std::size_t j) {
  double sum = 0.0;
  for (const Row& row : rows) sum += row[i] * row[j];
  return sum;
}

void rotate(std::vector<Row>& rows, std::size_t i, std::size_t j, double c, double s) {
  for (Row& row : rows) {
    const double x = row[i];
    const double y = row[j];
    row[i] = c * x - s * y;
    row[j] = s * x + c * y;
  }
}

/// Turns pairs of columns until all are at right angles: their lengths are the singular values.
/// Source: Hestenes, J. SIAM 6 (1958) 51, one-sided Jacobi.
Singular singular_of(std::vector<Row> a) {
  constexpr int k_most_sweeps = 40;
  std::vector<Row> v(9, Row{});
  for (std::size_t k = 0; k < 9; ++k) v[k][k] = 1.0;
  bool turned = true;
  for (int sweep = 0; sweep < k_most_sweeps && turned; ++sweep) {
    turned = false;
    for (std::size_t i = 0; i < 8; ++i) {
      for (std::size_t j = i + 1; j < 9; ++j) {
        const double ii = dot(a, i, i);
        const double jj = dot(a, j, j);
        const double ij = dot(a, i, j);
        if (std::abs(ij) <= 1e-15 * std::sqrt(ii * jj) || ij == 0.0) continue;
        const double zeta = (jj - ii) / (2.0 * ij);
        const double t =
            (zeta < 0.0 ? -1.0 : 1.0) / (std::abs(zeta) + std::sqrt(1.0 + zeta * zeta));
        const double c = 1.0 / std::sqrt(1.0 + t * t);
        rotate(a, i, j, c, c * t);
        rotate(v, i, j, c, c * t);
        turned = true;
      }
    }
  }
  Singular singular;
  std::size_t least = 0;
  for (std::size_t k = 0; k < 9; ++k) {
    singular.sizes[k] = std::sqrt(dot(a, k, k));
    if (singular.sizes[k] < singular.sizes[least]) least = k;
  }
  for (std::size_t k = 0; k < 9; ++k) singular.smallest[k] = v[k][least];
  std::sort(singular.sizes.rbegin(), singular.sizes.rend());
  return singular;
}

/// Columns a0, a1, a2 scaled so that they add up to a3: takes the standard frame to the four.
std::optional<base::Mat3> frame_of(const std::array<Vec2, 4>& places) {
  const base::Mat3 columns{Vec3(places[0], 1.0), Vec3(places[1], 1.0), Vec3(places[2], 1.0)};
  const double area = glm::determinant(columns);
  const double extent = glm::distance(places[0], places[2]) + glm::distance(places[0], places[1]);
  if (!(std::abs(area) > k_least_gap * extent * extent)) return std::nullopt;
  const Vec3 share = glm::inverse(columns) * Vec3(places[3], 1.0);
  for (int k = 0; k < 3; ++k) {
    if (!(std::abs(share[k]) > k_least_gap)) return std::nullopt;
  }
  return base::Mat3{columns[0] * share[0], columns[1] * share[1], columns[2] * share[2]};
}

/// Denominator of the map, and the sign of its local area, at a place in the image.
double weight_at(const Homography& h, const Vec2& p) {
  const base::Mat3& m = h.board_from_image;
  return m[0].z * p.x + m[1].z * p.y + m[2].z;
}

}  // namespace

base::Result<Homography> homography_through(const std::vector<MarkPair>& marks) {
  if (marks.size() < 4) {
    return Problem{"marks", fmt::format("{}", marks.size()), "at least four marks on the board"};
  }
  const Normaliser image = normaliser_of(marks, &MarkPair::image_px);
  const Normaliser board = normaliser_of(marks, &MarkPair::board_m);
  if (image.scale == 0.0 || board.scale == 0.0) {
    return Problem{"marks", "all on one spot", "marks that lie apart"};
  }
  const Singular singular = singular_of(equations(marks, image, board));
  base::Mat3 h;
  for (int k = 0; k < 9; ++k) h[k % 3][k / 3] = singular.smallest[static_cast<std::size_t>(k)];
  // The vector has length 1, and so has the matrix.
  if (!(singular.sizes[7] > k_least_gap * singular.sizes[0] &&
        std::abs(glm::determinant(h)) > k_least_gap)) {
    return Problem{"marks", "three of them in a line",
                   "four marks of which no three lie in a line"};
  }
  h = glm::inverse(board.matrix()) * h * image.matrix();
  double largest = 0.0;
  for (int k = 0; k < 9; ++k) largest = std::max(largest, std::abs(h[k % 3][k / 3]));
  if (!(std::abs(h[2][2]) > 1e-12 * largest)) {
    return Problem{"marks", "a horizon through the picture's corner", "a less slanted picture"};
  }
  const Homography result{h * (1.0 / h[2][2])};
  // The map must not fold the picture, and must turn it over once: pixels count downward.
  for (const MarkPair& mark : marks) {
    if (!(weight_at(result, mark.image_px) * weight_at(result, marks.front().image_px) > 0.0)) {
      return Problem{"marks", "a horizon between them", "marks numbered in the board's order"};
    }
  }
  const double first = weight_at(result, marks.front().image_px);
  if (!(glm::determinant(result.board_from_image) * first * first * first < 0.0)) {
    return Problem{"marks", "mirrored",
                   "marks numbered the same way round in the picture and on the board"};
  }
  return result;
}

std::optional<base::Mat3> map_through_four(const std::array<Vec2, 4>& from,
                                           const std::array<Vec2, 4>& to) {
  const auto start = frame_of(from);
  const auto end = frame_of(to);
  if (!start || !end) return std::nullopt;
  const base::Mat3 map = *end * glm::inverse(*start);
  // Weights above zero where the four are, so that mapped() tells what lies behind.
  const Vec3 first = map * Vec3(from[0], 1.0);
  return map * (first.z < 0.0 ? -1.0 : 1.0);
}

std::optional<Vec2> mapped(const base::Mat3& map, const Vec2& place) {
  const Vec3 p = map * Vec3(place, 1.0);
  if (!(p.z > 0.0)) return std::nullopt;
  return Vec2{p.x / p.z, p.y / p.z};
}

std::optional<Vec2> to_board(const Homography& homography, const Vec2& image_px) {
  const base::Vec3 p = homography.board_from_image * base::Vec3(image_px, 1.0);
  if (p.z == 0.0) return std::nullopt;
  return Vec2{p.x / p.z, p.y / p.z};
}

}  // namespace photo
