// Learning: the filter against batch least squares and the turns that follow from what it learned.
#include "align/learning.h"

#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <cmath>

#include "align/learned_move.h"
#include "support/outside.h"
#include "turning.h"

namespace {

using align::Response;
using align::Turns;
using base::Vec2;

Response nominal_response(const dish::Dish& dish, std::size_t facet = 0) {
  const auto setup = align::set_up(dish, dish.facets[facet]).value();
  return align::response_of(setup, align::sighting_of(dish, {}), {}).value();
}

/// The batch posterior of spot and gains from all looks at once: normal equations of a linear model
/// whose unknowns are the first spot, the six gains and the hands' error of every turned screw.
Eigen::VectorXd batch(const std::vector<Vec2>& looks, const std::vector<Turns>& moves,
                      const Response& f, double sigma, double turn_sigma,
                      const align::ScrewPrior& prior, Eigen::MatrixXd* covariance) {
  const int n = static_cast<int>(moves.size());
  const int unknowns = 8 + 3 * n;
  Eigen::MatrixXd design = Eigen::MatrixXd::Zero(2 * (n + 1), unknowns);
  Eigen::VectorXd seen(2 * (n + 1));
  for (int look = 0; look <= n; ++look) {
    seen.segment<2>(2 * look) << looks[look].x, looks[look].y;
    design.block<2, 2>(2 * look, 0).setIdentity();
    for (int i = 0; i < look; ++i) {
      for (int k = 0; k < 3; ++k) {
        const double t = moves[i][k];
        if (t == 0.0) continue;
        const Eigen::Vector2d column(f[k].x, f[k].y);
        const Eigen::Vector2d across(-f[k].y, f[k].x);
        design.block<2, 1>(2 * look, 2 + 2 * k) += t * column;
        design.block<2, 1>(2 * look, 3 + 2 * k) += t * across;
        design.block<2, 1>(2 * look, 8 + 3 * i + k) += turn_sigma * column;
      }
    }
  }
  Eigen::VectorXd information = Eigen::VectorXd::Zero(unknowns);
  Eigen::VectorXd centre = Eigen::VectorXd::Zero(unknowns);
  for (int k = 0; k < 3; ++k) {
    information[2 + 2 * k] = 1.0 / (prior.along * prior.along);
    information[3 + 2 * k] = 1.0 / (prior.across * prior.across);
    centre[2 + 2 * k] = 1.0;
  }
  information.tail(3 * n).setOnes();
  const Eigen::MatrixXd normal =
      design.transpose() * design / (sigma * sigma) + Eigen::MatrixXd(information.asDiagonal());
  const Eigen::VectorXd right =
      design.transpose() * seen / (sigma * sigma) + information.cwiseProduct(centre);
  if (covariance != nullptr) *covariance = normal.inverse();
  return normal.ldlt().solve(right);
}

}  // namespace

// The Kalman form of linear least squares against the batch normal equations: seven looks, six
// moves, prior 0.07 / 0.04.
TEST_CASE("the filter gives the batch least-squares posterior") {
  const dish::Dish dish = support::reference_dish();
  const Response f = nominal_response(dish);
  align_test::Gauss gauss(7);
  const align::ScrewPrior prior;
  const double sigma = 0.002;
  const double turn_sigma = 1.0 / 12.0;
  std::vector<Vec2> looks{{0.03, -0.02}};
  std::vector<Turns> moves;
  Eigen::VectorXd all;
  align::ScrewFilter filter = align::start_filter(looks[0], sigma, prior);
  double worst = 0.0;
  for (int i = 0; i < 6; ++i) {
    Turns turns{gauss(), gauss(), 0.0};
    if (i == 3) turns = {};
    moves.push_back(turns);
    looks.push_back({gauss(0.02), gauss(0.02)});
    align::turn_screws(filter, f, turns, turn_sigma);
    align::look_again(filter, looks.back(), sigma);
    Eigen::MatrixXd covariance;
    all = batch(looks, moves, f, sigma, turn_sigma, prior, &covariance);
    worst = std::max(worst, (filter.mean.tail<6>() - all.segment<6>(2)).cwiseAbs().maxCoeff());
    worst =
        std::max(worst, (filter.covariance.bottomRightCorner<6, 6>() - covariance.block<6, 6>(2, 2))
                            .cwiseAbs()
                            .maxCoeff());
  }
  CHECK(worst < 1e-12);
  constexpr double pins[4] = {0.44336294906, -0.022125150723, 0.25891811708, 0.00144188521511};
  for (int k = 0; k < 4; ++k) {
    support::check_outside({.what = "gain " + std::to_string(k) + " after six moves",
                            .source = "batch least squares by Eigen's LDLT (3.4)",
                            .outside = all[2 + k],
                            .ours = filter.mean.tail<6>()[k],
                            .tolerance = 1e-12,
                            .why = "doubles through a condition number of 1e3",
                            .pin = pins[k]});
  }
}

// Source: derived model z = F t + v, R = 2 sigma_m^2 I + F0 diag(sigma_t^2 [t != 0]) F0^T, stacked
// columns with H = t^T (x) I2 and prior |f|^2 (s_par^2 u u^T + s_perp^2 v v^T). Tolerance 1e-12 of
// the columns' length, as above.
TEST_CASE("one move from a fresh start is the stacked-column Kalman update") {
  const dish::Dish dish = support::reference_dish();
  const Response f = nominal_response(dish, 5);
  const Turns turns{0.75, -1.25, 0.0};
  const Vec2 z{-0.031, 0.012};
  const double sigma = 0.002;
  const double turn_sigma = 1.0 / 12.0;
  const align::ScrewPrior prior{.along = 0.08, .across = 0.05};
  Eigen::Matrix<double, 6, 1> m;
  Eigen::Matrix<double, 6, 6> p = Eigen::Matrix<double, 6, 6>::Zero();
  Eigen::Matrix<double, 2, 6> h;
  Eigen::Matrix2d r = 2.0 * sigma * sigma * Eigen::Matrix2d::Identity();
  for (int k = 0; k < 3; ++k) {
    const Eigen::Vector2d column(f[k].x, f[k].y);
    const Eigen::Vector2d u = column.normalized();
    const Eigen::Vector2d v(-u.y(), u.x());
    m.segment<2>(2 * k) = column;
    p.block<2, 2>(2 * k, 2 * k) =
        column.squaredNorm() * (prior.along * prior.along * u * u.transpose() +
                                prior.across * prior.across * v * v.transpose());
    h.block<2, 2>(0, 2 * k) = turns[k] * Eigen::Matrix2d::Identity();
    if (turns[k] != 0.0) r += turn_sigma * turn_sigma * column * column.transpose();
  }
  const Eigen::Matrix2d s = h * p * h.transpose() + r;
  m += (p * h.transpose() * s.inverse() * (Eigen::Vector2d(z.x, z.y) - h * m)).eval();

  align::ScrewFilter filter = align::start_filter({0.01, 0.02}, sigma, prior);
  align::turn_screws(filter, f, turns, turn_sigma);
  align::look_again(filter, Vec2{0.01, 0.02} + z, sigma);
  const Response learned = align::learned_response(filter, f);
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 stacked{m[2 * static_cast<int>(k)], m[2 * static_cast<int>(k) + 1]};
    CHECK(glm::distance(learned[k], stacked) < 1e-12 * glm::length(f[k]));
  }
}

// Source: Moore-Penrose inverse by Eigen 3.4's complete orthogonal decomposition plus the null
// space, searched over nu by 1e-3 of a turn. Tolerance: the search's step.
TEST_CASE("next turns solve the move with the least sum of turns") {
  align_test::Gauss gauss(11);
  const dish::Dish dish = support::reference_dish();
  for (int trial = 0; trial < 50; ++trial) {
    Response f = nominal_response(dish, static_cast<std::size_t>(trial % 36));
    for (Vec2& column : f) column *= 1.0 + gauss(0.1);
    const Vec2 wanted{gauss(0.03), gauss(0.03)};
    Turns turns{};
    REQUIRE(align::fewest_turns(f, wanted, turns));
    CHECK(glm::distance(align::shift_of_turns(f, turns), wanted) < 1e-14);
    Eigen::Matrix<double, 2, 3> matrix;
    for (int k = 0; k < 3; ++k) matrix.col(k) << f[k].x, f[k].y;
    const Eigen::Vector3d least_squares =
        matrix.completeOrthogonalDecomposition().solve(Eigen::Vector2d(wanted.x, wanted.y));
    const Eigen::Vector3d null = matrix.fullPivLu().kernel().normalized();
    double least = INFINITY;
    for (int step = -5000; step <= 5000; ++step) {
      least = std::min(least, (least_squares + 1e-3 * step * null).cwiseAbs().sum());
    }
    const double total = std::abs(turns[0]) + std::abs(turns[1]) + std::abs(turns[2]);
    CHECK(total <= least + 1e-12);
    CHECK(total > least - 2e-3);
  }
}

TEST_CASE("the bound of a contradiction is the chi-squared table's") {
  constexpr double pin = 13.815510558;
  support::check_outside(
      {.what = "chi-squared of 2 degrees of freedom, upper 0.1 %",
       .source = "chi-squared distribution (Abramowitz & Stegun, table 26.8, from memory)",
       .outside = 13.816,
       .ours = align::k_contradiction,
       .tolerance = 5e-4,
       .why = support::k_half_digit,
       .pin = pin});
  CHECK(align::k_contradiction == doctest::Approx(-2.0 * std::log(0.001)).epsilon(1e-15));
}
