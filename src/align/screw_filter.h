// What a facet's spots tell of its screws: where the spot is and how each screw moves it, together,
// as one exact linear filter over looks and turns.
#pragma once

#include <Eigen/Dense>

#include <array>
#include <cstddef>

#include "align/response.h"
#include "base/vec.h"

namespace align {

/// How far a screw's column may be from nominal, relative to its length: along it (thread, lever
/// arm, flat tip) and across it (place of the screw, clocking). Common practice, no source.
struct ScrewPrior {
  double along = 0.07;
  double across = 0.04;
};

/// State: the spot (right, up), then for each screw the shares of its nominal column and of the
/// same turned by +90 degrees. A screw as in the file has (1, 0).
using FilterVector = Eigen::Matrix<double, 8, 1>;
using FilterMatrix = Eigen::Matrix<double, 8, 8>;

struct ScrewFilter {
  FilterVector mean = FilterVector::Zero();
  FilterMatrix covariance = FilterMatrix::Zero();
  double log_likelihood = 0.0;  ///< of all looks after the first, each given those before it

  [[nodiscard]] base::Vec2 spot_m() const { return {mean[0], mean[1]}; }
  [[nodiscard]] double along(std::size_t screw) const { return mean[2 + 2 * screw]; }
  [[nodiscard]] double across(std::size_t screw) const { return mean[3 + 2 * screw]; }
  [[nodiscard]] double along_sigma(std::size_t screw) const;
};

/// After the first look; nothing was known of the spot before it.
ScrewFilter start_filter(const base::Vec2& seen_m, double sigma_m, const ScrewPrior& prior);

/// Turns: the spot moves by the columns as they are believed; the hands' error, of the screws that
/// were turned, widens it.
void turn_screws(ScrewFilter& filter, const Response& nominal, const Turns& turns,
                 double turn_sigma_turns);

/// How a look compares with what was to be expected.
struct Surprise {
  base::Vec2 expected_m{0.0, 0.0};
  double squared = 0.0;  ///< Mahalanobis distance squared; chi-squared with 2 degrees of freedom
};
Surprise surprise_of(const ScrewFilter& filter, const base::Vec2& seen_m, double sigma_m);

/// Takes a look in: Kalman update (Joseph's form keeps the covariance symmetric and positive), and
/// the likelihood. For one move from a fresh start it is the update of section "learning" with
/// R = 2 sigma_m^2 I + F0 diag(sigma_t^2 [t != 0]) F0^T, and any number of looks give the batch
/// least-squares posterior.
Surprise look_again(ScrewFilter& filter, const base::Vec2& seen_m, double sigma_m);

/// Forgets where the spot was and starts from this look; what is known of the screws stays.
void restart_spot(ScrewFilter& filter, const base::Vec2& seen_m, double sigma_m);

/// The screws' columns as they are believed.
Response learned_response(const ScrewFilter& filter, const Response& nominal);

/// Next turns that move the spot by `wanted_m`: t = pinv(F) wanted + nu null(F), nu such that the
/// sum of |t| is least, so one screw stays. Source: derived; the sum is convex and piecewise linear
/// in nu. False: the columns cannot move the spot everywhere.
bool fewest_turns(const Response& response, const base::Vec2& wanted_m, Turns& turns);

}  // namespace align
