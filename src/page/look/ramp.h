// The colour scale of maps: night blue over copper to pale straw.
// Computed in OKLab (Ottosson 2020, "A perceptual color space for image processing") so that equal
// steps of the value look equal; lightness rises strictly, so that the map also reads in grey.
#pragma once

#include <array>
#include <cstdint>

namespace look {

/// Colour in gamma-encoded sRGB, 0..1 each.
struct Rgb {
  double red = 0.0;
  double green = 0.0;
  double blue = 0.0;
};

/// OKLab: lightness 0..1, a toward red, b toward yellow.
struct Oklab {
  double lightness = 0.0;
  double a = 0.0;
  double b = 0.0;
};

[[nodiscard]] Oklab oklab_from_rgb(const Rgb& colour);
/// May lie outside 0..1 when the colour is none that a screen can show.
[[nodiscard]] Rgb rgb_from_oklab(const Oklab& colour);

/// The scale at `share` of full value, 0..1; outside is clamped, not-a-number is the dark end.
/// Lightness is linear in the share from 0.20 to 0.96.
[[nodiscard]] Rgb ramp(double share);

/// 256 steps of the scale as bytes R, G, B, 255: what a texture or a table takes.
[[nodiscard]] std::array<std::uint8_t, 1024> ramp_bytes();

}  // namespace look
