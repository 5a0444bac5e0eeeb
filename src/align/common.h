// Errors that all facets share: two shifts, spread, swirl and two saddles, found together from all
// spots without being misled by a few wrong ones.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"

namespace align {

/// Basis (p, q) of each mode at a facet's place (x, y), as seen from the sun.
enum class Mode {
  shift_x,    ///< (1, 0)
  shift_y,    ///< (0, 1)
  radial,     ///< (x, y)
  swirl,      ///< (-y, x)
  saddle,     ///< (x, -y)
  saddle_45,  ///< (y, x)
};
inline constexpr std::size_t k_modes = 6;

base::Vec2 mode_basis(Mode mode, const base::Vec2& place_m);

/// Weights of the M-estimators for vectors of two numbers: constants that keep 95 % efficiency for
/// two-dimensional Gaussian residuals. Source: derived by integration; the textbook constants
/// 1.345 and 4.685 (Huber, Tukey) are those for one number.
inline constexpr double k_huber = 1.5011410835262113;
inline constexpr double k_tukey = 5.122986089952764;
/// Median of a Rayleigh variable of unit sigma, sqrt(2 ln 2).
inline constexpr double k_rayleigh_median = 1.1774100225154747;

enum class Estimator { least_squares, huber, tukey };

struct ModeFit {
  std::array<double, k_modes> value{};  ///< m for the shifts, m per m of radius for the others
  std::array<double, k_modes> sigma{};  ///< standard deviations, sqrt of s^2 (A^T W A)^-1
  double scale_m = 0.0;                 ///< s: sigma of one residual per axis
  std::vector<double> weights;          ///< one for each facet, 0..1
};

/// Fits the six modes to residuals (seen less expected, as seen from the sun). Least squares has
/// s = sqrt(sum r^2 / (2N - 6)); Huber starts from it and Tukey from Huber, each repeated with
/// s = median(r) / 1.1774 until nothing changes.
/// Problems: fewer than four facets, or all in a line.
base::Result<ModeFit> fit_modes(const std::vector<base::Vec2>& places_m,
                                const std::vector<base::Vec2>& residuals_m, Estimator estimator);

/// How strongly each cause shows in its modes on this dish, with this light and board. Found by
/// perturbing the exact forward model (see align/causes.h).
struct Responses {
  base::Mat2 shift_per_boresight{0.0};  ///< m of (shift_x, shift_y) per rad of sun error (x, y)
  double radial_per_distance = 0.0;     ///< per m that the board stands too far along the light
  double swirl_per_clocking = 0.0;      ///< per rad, places against normals
  double saddle_per_bend_m = 0.0;       ///< per 1/m: normals off by (-A x, A y)
  double saddle_45_per_bend_m = 0.0;    ///< per 1/m: normals off by (-A y, -A x)
};

struct CommonMode {
  Mode mode = Mode::shift_x;
  double value = 0.0;  ///< as in ModeFit
  double sigma = 0.0;
  double at_rim_m = 0.0;     ///< size of its spot shift at the outermost measured facet
  bool significant = false;  ///< beyond 3 sigma, and worth more than the stop threshold at the rim
  std::string sentence;  ///< what it is, how sure, what else looks the same, where to correct it
};

/// The common errors of a round, as modes and as the causes a person can act on.
struct CommonErrors {
  std::array<CommonMode, k_modes> modes;
  ModeFit fit;
  base::Vec2 boresight_rad{0.0, 0.0};  ///< further sun error that would look the same
  base::Vec2 boresight_sigma_rad{0.0, 0.0};
  double focus_m = 0.0;  ///< board too far along the light
  double focus_sigma_m = 0.0;
  double clocking_rad = 0.0;  ///< places turned against normals, anticlockwise from the sun
  double clocking_sigma_rad = 0.0;
  base::Vec2 bend_per_m{0.0, 0.0};  ///< saddle of the frame, upright and at 45 degrees
  base::Vec2 bend_sigma_per_m{0.0, 0.0};
  std::string note;  ///< what to mind about the whole fit; may be empty
};

/// Modes to causes and words. `stop_threshold_m`: spot errors below it are not worth acting on.
CommonErrors explain(ModeFit fit, const Responses& responses,
                     const std::vector<base::Vec2>& places_m, double stop_threshold_m);

/// Spot shift at a place of the modes that are to be left out of the corrections.
base::Vec2 shift_of(const ModeFit& fit, const std::array<bool, k_modes>& left_out,
                    const base::Vec2& place_m);

/// "shift_x", "shift_y", "radial", "swirl", "saddle", "saddle_45".
const char* to_text(Mode mode);

}  // namespace align
