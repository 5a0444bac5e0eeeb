// The pictures that a screen shows for a look back: one slow wave of light across the screen, then
// one up it, each in four steps. Whoever draws them and whoever reads them goes by this file.
#pragma once

#include <array>
#include <cstddef>
#include <string>

#include "base/result.h"
#include "base/vec.h"

namespace photo {

/// The lit part of a screen as someone sees it who faces it; its middle is (0, 0).
struct Screen {
  double width_m = 0.34;
  double height_m = 0.19;
};

inline constexpr std::size_t k_fringe_steps = 4;
inline constexpr std::size_t k_fringe_pictures = 2 * k_fringe_steps;  ///< across, then up

/// A side shows three quarters of a wave. The quarter that is left out keeps the two ends of a side
/// apart: a reading at one edge would have to be wrong by a sixth of the side before it came out at
/// the other, and one that falls into the gap is known to be none.
inline constexpr double k_wave_shown = 0.75;

/// Light of a picture, as shares of the screen's full light: screens are crushed near black and
/// clipped near white.
inline constexpr double k_fringe_mean = 0.5;
inline constexpr double k_fringe_swing = 0.45;

/// Length of the wave across and of the one up.
base::Vec2 wave_m(const Screen& screen);

/// Light of a picture (0 to 7) at a place of the screen, 0.05 to 0.95:
/// mean + swing cos(2 pi (place / wave + step / 4)).
double fringe_light(const Screen& screen, std::size_t picture, const base::Vec2& place_m);

/// What four steps of a wave tell, from their light a + b cos(phase + step pi / 2). No reflectance
/// and no steady light beside the wave changes the phase.
/// Source: four-step phase shifting, K. Creath, "Phase-measurement interferometry techniques",
/// Progress in Optics 26 (1988) 349; the same is the first harmonic of four samples.
struct FourSteps {
  double phase_turns = 0.0;  ///< -0.5 to 0.5
  double mean = 0.0;         ///< a
  double swing = 0.0;        ///< b
  /// I0 + I2 - I1 - I3: zero but for noise, light that changed, and a bent tone curve.
  double mismatch = 0.0;
};
FourSteps read_four(const std::array<double, k_fringe_steps>& light);

/// "across, step 1 of 4".
std::string fringe_name(std::size_t picture);

/// Problems: sides outside 0.1 to 10 m.
base::Problems check(const Screen& screen);

}  // namespace photo
