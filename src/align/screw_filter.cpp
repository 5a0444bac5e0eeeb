// An ordinary Kalman filter of eight numbers.
#include "align/screw_filter.h"

#include <cmath>

#include "base/elementary.h"

namespace align {
namespace {

using base::Vec2;
using Matrix2 = Eigen::Matrix2d;

constexpr double k_log_two_pi = 1.8378770664093453;

/// The gains' effect on the spot of these turns, 2 x 6.
Eigen::Matrix<double, 2, 6> lever_of(const Response& nominal, const Turns& turns) {
  Eigen::Matrix<double, 2, 6> lever;
  for (int k = 0; k < 3; ++k) {
    const Vec2 f = turns[k] * nominal[k];
    lever(0, 2 * k) = f.x;
    lever(1, 2 * k) = f.y;
    lever(0, 2 * k + 1) = -f.y;
    lever(1, 2 * k + 1) = f.x;
  }
  return lever;
}

Matrix2 innovation_covariance(const ScrewFilter& filter, double sigma_m) {
  return filter.covariance.topLeftCorner<2, 2>() + Matrix2::Identity() * (sigma_m * sigma_m);
}

}  // namespace

double ScrewFilter::along_sigma(std::size_t screw) const {
  const auto at = static_cast<Eigen::Index>(2 + 2 * screw);
  return std::sqrt(covariance(at, at));
}

ScrewFilter start_filter(const Vec2& seen_m, double sigma_m, const ScrewPrior& prior) {
  ScrewFilter filter;
  filter.mean << seen_m.x, seen_m.y, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0;
  FilterVector variances;
  const double along = prior.along * prior.along;
  const double across = prior.across * prior.across;
  variances << sigma_m * sigma_m, sigma_m * sigma_m, along, across, along, across, along, across;
  filter.covariance = variances.asDiagonal();
  return filter;
}

void turn_screws(ScrewFilter& filter, const Response& nominal, const Turns& turns,
                 double turn_sigma_turns) {
  FilterMatrix step = FilterMatrix::Identity();
  step.topRightCorner<2, 6>() = lever_of(nominal, turns);
  filter.mean = (step * filter.mean).eval();
  filter.covariance = (step * filter.covariance * step.transpose()).eval();
  for (int k = 0; k < 3; ++k) {
    if (turns[k] == 0.0) continue;
    const Eigen::Vector2d column(nominal[k].x, nominal[k].y);
    filter.covariance.topLeftCorner<2, 2>() +=
        turn_sigma_turns * turn_sigma_turns * column * column.transpose();
  }
}

Surprise surprise_of(const ScrewFilter& filter, const Vec2& seen_m, double sigma_m) {
  const Vec2 expected = filter.spot_m();
  const Eigen::Vector2d off(seen_m.x - expected.x, seen_m.y - expected.y);
  return {expected, off.dot(innovation_covariance(filter, sigma_m).inverse() * off)};
}

Surprise look_again(ScrewFilter& filter, const Vec2& seen_m, double sigma_m) {
  const Surprise surprise = surprise_of(filter, seen_m, sigma_m);
  const Matrix2 spread = innovation_covariance(filter, sigma_m);
  filter.log_likelihood -=
      0.5 * surprise.squared + k_log_two_pi + 0.5 * base::log_positive(spread.determinant());
  const Eigen::Matrix<double, 8, 2> gain = filter.covariance.leftCols<2>() * spread.inverse();
  const Eigen::Vector2d off(seen_m.x - surprise.expected_m.x, seen_m.y - surprise.expected_m.y);
  filter.mean += gain * off;
  FilterMatrix rest = FilterMatrix::Identity();
  rest.leftCols<2>() -= gain;
  filter.covariance = (rest * filter.covariance * rest.transpose()).eval();
  filter.covariance += gain * (sigma_m * sigma_m) * gain.transpose();
  return surprise;
}

void restart_spot(ScrewFilter& filter, const Vec2& seen_m, double sigma_m) {
  filter.mean[0] = seen_m.x;
  filter.mean[1] = seen_m.y;
  filter.covariance.topRows<2>().setZero();
  filter.covariance.leftCols<2>().setZero();
  filter.covariance.topLeftCorner<2, 2>() = Matrix2::Identity() * (sigma_m * sigma_m);
}

Response learned_response(const ScrewFilter& filter, const Response& nominal) {
  Response learned{};
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 across{-nominal[k].y, nominal[k].x};
    learned[k] = filter.along(k) * nominal[k] + filter.across(k) * across;
  }
  return learned;
}

bool fewest_turns(const Response& response, const Vec2& wanted_m, Turns& turns) {
  // Cross products of the columns: the null space, and each pair's own determinant.
  const auto cross = [&](std::size_t i, std::size_t k) {
    return response[i].x * response[k].y - response[i].y * response[k].x;
  };
  const std::array<double, 3> null{cross(1, 2), cross(2, 0), cross(0, 1)};
  double longest = 0.0;
  for (const Vec2& column : response) longest = std::max(longest, glm::dot(column, column));
  double least = INFINITY;
  // A convex piecewise linear function has its least at a corner: one screw stays.
  for (std::size_t still = 0; still < 3; ++still) {
    if (!(std::abs(null[still]) > 1e-9 * longest)) continue;
    const std::size_t i = (still + 1) % 3;
    const std::size_t k = (still + 2) % 3;
    Turns option{};
    option[i] = (wanted_m.x * response[k].y - wanted_m.y * response[k].x) / null[still];
    option[k] = (response[i].x * wanted_m.y - response[i].y * wanted_m.x) / null[still];
    const double total = std::abs(option[i]) + std::abs(option[k]);
    if (total < least) {
      least = total;
      turns = option;
    }
  }
  return std::isfinite(least);
}

}  // namespace align
