// The projective map through marks, by the normalised direct linear transform.
#include "align/homography.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <cmath>

namespace align {
namespace {

using base::Problem;
using base::Vec2;

constexpr double k_least_spread = 1e-9;
constexpr double k_least_gap = 1e-9;  ///< second smallest singular value over the largest

/// x' = scale (x - mean): mean 0 and mean distance sqrt 2.
struct Normaliser {
  Vec2 mean{0.0, 0.0};
  double scale = 0.0;

  [[nodiscard]] Eigen::Matrix3d matrix() const {
    Eigen::Matrix3d m;
    m << scale, 0.0, -scale * mean.x, 0.0, scale, -scale * mean.y, 0.0, 0.0, 1.0;
    return m;
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

/// Two rows for each mark: the cross product of board and H image vanishes.
Eigen::MatrixXd equations(const std::vector<MarkPair>& marks, const Normaliser& image,
                          const Normaliser& board) {
  Eigen::MatrixXd a(2 * static_cast<Eigen::Index>(marks.size()), 9);
  Eigen::Index row = 0;
  for (const MarkPair& mark : marks) {
    const Vec2 p = image.scale * (mark.image_px - image.mean);
    const Vec2 q = board.scale * (mark.board_m - board.mean);
    a.row(row++) << -p.x, -p.y, -1.0, 0.0, 0.0, 0.0, q.x * p.x, q.x * p.y, q.x;
    a.row(row++) << 0.0, 0.0, 0.0, -p.x, -p.y, -1.0, q.y * p.x, q.y * p.y, q.y;
  }
  return a;
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
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(equations(marks, image, board), Eigen::ComputeFullV);
  const auto& sizes = svd.singularValues();
  Eigen::Matrix3d h;
  for (Eigen::Index k = 0; k < 9; ++k) h(k / 3, k % 3) = svd.matrixV()(k, 8);
  if (!(sizes(7) > k_least_gap * sizes(0) &&
        std::abs(h.determinant()) > k_least_gap * std::pow(h.norm(), 3))) {
    return Problem{"marks", "three of them in a line",
                   "four marks of which no three lie in a line"};
  }
  h = board.matrix().inverse() * h * image.matrix();
  if (!(std::abs(h(2, 2)) > 1e-12 * h.cwiseAbs().maxCoeff())) {
    return Problem{"marks", "a horizon through the picture's corner", "a less slanted picture"};
  }
  h /= h(2, 2);

  Homography result;
  for (int column = 0; column < 3; ++column) {
    for (int row = 0; row < 3; ++row) result.board_from_image[column][row] = h(row, column);
  }
  // The map must not fold the picture, and must turn it over once: pixels count downward.
  for (const MarkPair& mark : marks) {
    if (!(weight_at(result, mark.image_px) * weight_at(result, marks.front().image_px) > 0.0)) {
      return Problem{"marks", "a horizon between them", "marks numbered in the board's order"};
    }
  }
  const double first = weight_at(result, marks.front().image_px);
  if (!(h.determinant() * first * first * first < 0.0)) {
    return Problem{"marks", "mirrored",
                   "marks numbered the same way round in the picture and on the board"};
  }
  return result;
}

std::optional<Vec2> to_board(const Homography& homography, const Vec2& image_px) {
  const base::Vec3 p = homography.board_from_image * base::Vec3(image_px, 1.0);
  if (p.z == 0.0) return std::nullopt;
  return Vec2{p.x / p.z, p.y / p.z};
}

}  // namespace align
