// The robust fit of the six common modes.
#include "align/common.h"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>

#include "base/check.h"

namespace align {
namespace {

using base::Problem;
using base::Vec2;
using Normal = Eigen::Matrix<double, 6, 6>;
using Six = Eigen::Matrix<double, 6, 1>;

constexpr std::size_t k_least_facets = 4;
constexpr int k_most_reweightings = 500;
constexpr double k_still = 1e-13;         ///< of the scale
constexpr double k_least_scale_m = 1e-9;  ///< residuals below this are rounding
constexpr double k_least_condition = 1e-9;

/// The fit in units of the facets' rms radius, where all six modes are of like size.
class Fitter {
 public:
  Fitter(const std::vector<Vec2>& places, const std::vector<Vec2>& residuals)
      : places_(places), residuals_(residuals) {
    double squares = 0.0;
    for (const Vec2& place : places) squares += glm::dot(place, place);
    radius_ = std::sqrt(squares / static_cast<double>(places.size()));
  }

  [[nodiscard]] double radius() const { return radius_; }

  [[nodiscard]] Normal normal_matrix(const std::vector<double>& weights) const {
    Normal normal = Normal::Zero();
    for (std::size_t i = 0; i < places_.size(); ++i) {
      for (int axis = 0; axis < 2; ++axis) {
        const Six row = row_of(i, axis);
        normal += weights[i] * row * row.transpose();
      }
    }
    return normal;
  }

  /// Weighted least squares; nothing when the weights leave too little to tell the modes apart.
  [[nodiscard]] std::optional<Six> solve(const std::vector<double>& weights) const {
    const Normal normal = normal_matrix(weights);
    const Eigen::SelfAdjointEigenSolver<Normal> sizes(normal, Eigen::EigenvaluesOnly);
    const auto& eigenvalues = sizes.eigenvalues();
    if (!(eigenvalues(0) > k_least_condition * eigenvalues(5))) return std::nullopt;
    Six right = Six::Zero();
    for (std::size_t i = 0; i < places_.size(); ++i) {
      for (int axis = 0; axis < 2; ++axis) {
        right += weights[i] * residuals_[i][axis] * row_of(i, axis);
      }
    }
    return Six(normal.ldlt().solve(right));
  }

  [[nodiscard]] std::vector<double> sizes_left(const Six& modes) const {
    std::vector<double> sizes(places_.size());
    for (std::size_t i = 0; i < sizes.size(); ++i) {
      const Vec2 left{residuals_[i].x - row_of(i, 0).dot(modes),
                      residuals_[i].y - row_of(i, 1).dot(modes)};
      sizes[i] = glm::length(left);
    }
    return sizes;
  }

 private:
  [[nodiscard]] Six row_of(std::size_t i, int axis) const {
    Six row;
    for (std::size_t m = 0; m < k_modes; ++m) {
      const double unit = m < 2 ? 1.0 : 1.0 / radius_;
      row(static_cast<Eigen::Index>(m)) = unit * mode_basis(static_cast<Mode>(m), places_[i])[axis];
    }
    return row;
  }

  const std::vector<Vec2>& places_;
  const std::vector<Vec2>& residuals_;
  double radius_ = 0.0;
};

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

double weight_of(Estimator estimator, double share) {
  if (estimator == Estimator::huber) return share <= k_huber ? 1.0 : k_huber / share;
  const double u = share / k_tukey;
  return u < 1.0 ? (1.0 - u * u) * (1.0 - u * u) : 0.0;
}

struct State {
  Six modes = Six::Zero();
  double scale = 0.0;
  std::vector<double> weights;
};

/// Reweights until the modes rest. Nothing when the weights degenerate.
std::optional<State> reweighted(const Fitter& fitter, Estimator estimator, State state) {
  for (int step = 0; step < k_most_reweightings; ++step) {
    const std::vector<double> sizes = fitter.sizes_left(state.modes);
    state.scale = std::max(median(sizes) / k_rayleigh_median, k_least_scale_m);
    for (std::size_t i = 0; i < sizes.size(); ++i) {
      state.weights[i] = weight_of(estimator, sizes[i] / state.scale);
    }
    const auto next = fitter.solve(state.weights);
    if (!next) return std::nullopt;
    const double moved = (*next - state.modes).cwiseAbs().maxCoeff();
    state.modes = *next;
    if (moved <= k_still * state.scale) break;
  }
  return state;
}

ModeFit fit_of(const Fitter& fitter, const State& state) {
  ModeFit fit{.scale_m = state.scale, .weights = state.weights};
  const Normal covariance =
      state.scale * state.scale * fitter.normal_matrix(state.weights).inverse();
  for (std::size_t m = 0; m < k_modes; ++m) {
    const auto at = static_cast<Eigen::Index>(m);
    const double unit = m < 2 ? 1.0 : 1.0 / fitter.radius();
    fit.value[m] = state.modes(at) * unit;
    fit.sigma[m] = std::sqrt(covariance(at, at)) * unit;
  }
  return fit;
}

}  // namespace

Vec2 mode_basis(Mode mode, const Vec2& p) {
  switch (mode) {
    case Mode::shift_x:
      return {1.0, 0.0};
    case Mode::shift_y:
      return {0.0, 1.0};
    case Mode::radial:
      return p;
    case Mode::swirl:
      return {-p.y, p.x};
    case Mode::saddle:
      return {p.x, -p.y};
    case Mode::saddle_45:
      return {p.y, p.x};
  }
  return {0.0, 0.0};
}

const char* to_text(Mode mode) {
  switch (mode) {
    case Mode::shift_x:
      return "shift_x";
    case Mode::shift_y:
      return "shift_y";
    case Mode::radial:
      return "radial";
    case Mode::swirl:
      return "swirl";
    case Mode::saddle:
      return "saddle";
    case Mode::saddle_45:
      return "saddle_45";
  }
  return "";
}

base::Result<ModeFit> fit_modes(const std::vector<Vec2>& places_m,
                                const std::vector<Vec2>& residuals_m, Estimator estimator) {
  CHECK(places_m.size() == residuals_m.size(), "each place has its residual");
  if (places_m.size() < k_least_facets) {
    return Problem{"common errors", fmt::format("{} spots", places_m.size()),
                   "at least four facets, not in a line"};
  }
  const Fitter fitter(places_m, residuals_m);
  State state{.weights = std::vector<double>(places_m.size(), 1.0)};
  const auto start = fitter.radius() > 0.0 ? fitter.solve(state.weights) : std::nullopt;
  if (!start) {
    return Problem{"common errors", "all facets in a line", "at least four facets, not in a line"};
  }
  state.modes = *start;
  double squares = 0.0;
  for (const double size : fitter.sizes_left(state.modes)) squares += size * size;
  state.scale = std::sqrt(squares / (2.0 * static_cast<double>(places_m.size()) - k_modes));

  // Where reweighting leaves too little to go on, the step before stands.
  if (estimator != Estimator::least_squares) {
    const auto huber = reweighted(fitter, Estimator::huber, state);
    if (huber) state = *huber;
  }
  if (estimator == Estimator::tukey) {
    const auto tukey = reweighted(fitter, Estimator::tukey, state);
    if (tukey) state = *tukey;
  }
  return fit_of(fitter, state);
}

Vec2 shift_of(const ModeFit& fit, const std::array<bool, k_modes>& left_out, const Vec2& place_m) {
  Vec2 shift{0.0, 0.0};
  for (std::size_t m = 0; m < k_modes; ++m) {
    if (left_out[m]) shift += fit.value[m] * mode_basis(static_cast<Mode>(m), place_m);
  }
  return shift;
}

}  // namespace align
