// OKLab both ways and the curve of the map's colour scale through it.
#include "page/look/ramp.h"

#include <algorithm>
#include <cmath>

namespace look {
namespace {

double linear_from_srgb(double coded) {
  return coded <= 0.04045 ? coded / 12.92 : std::pow((coded + 0.055) / 1.055, 2.4);
}

double srgb_from_linear(double light) {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1.0 / 2.4) - 0.055;
}

bool shows(const Rgb& colour) {
  constexpr double k_slack = 1e-9;
  const auto fits = [](double part) { return part >= -k_slack && part <= 1.0 + k_slack; };
  return fits(colour.red) && fits(colour.green) && fits(colour.blue);
}

/// One chroma coordinate of the scale: the parabola through its values at the dark end, at copper
/// and at the light end.
double through(double dark, double copper, double light, double share) {
  constexpr double k_copper_at = 0.58;
  const double from_dark = share / k_copper_at;
  const double slope = (copper - dark) / k_copper_at;
  const double bend = (light - copper) / (1.0 - k_copper_at) - slope;
  return dark + (copper - dark) * from_dark + bend * share * (share - k_copper_at);
}

}  // namespace

Oklab oklab_from_rgb(const Rgb& colour) {
  const double red = linear_from_srgb(colour.red);
  const double green = linear_from_srgb(colour.green);
  const double blue = linear_from_srgb(colour.blue);
  const double l = std::cbrt(0.4122214708 * red + 0.5363325363 * green + 0.0514459929 * blue);
  const double m = std::cbrt(0.2119034982 * red + 0.6806995451 * green + 0.1073969566 * blue);
  const double s = std::cbrt(0.0883024619 * red + 0.2817188376 * green + 0.6299787005 * blue);
  return {0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
          1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
          0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s};
}

Rgb rgb_from_oklab(const Oklab& colour) {
  const auto cube = [](double root) { return root * root * root; };
  const double l = cube(colour.lightness + 0.3963377774 * colour.a + 0.2158037573 * colour.b);
  const double m = cube(colour.lightness - 0.1055613458 * colour.a - 0.0638541728 * colour.b);
  const double s = cube(colour.lightness - 0.0894841775 * colour.a - 1.2914855480 * colour.b);
  return {srgb_from_linear(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
          srgb_from_linear(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
          srgb_from_linear(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

Rgb ramp(double share) {
  const double at = share > 0.0 ? std::min(share, 1.0) : 0.0;
  Oklab colour{0.20 + 0.76 * at, through(-0.006, 0.082, -0.004, at),
               through(-0.075, 0.092, 0.055, at)};
  Rgb shown = rgb_from_oklab(colour);
  // Where the screen cannot show the hue this strongly, take colour away and keep the lightness.
  while (!shows(shown)) {
    colour.a *= 0.98;
    colour.b *= 0.98;
    shown = rgb_from_oklab(colour);
  }
  return {std::clamp(shown.red, 0.0, 1.0), std::clamp(shown.green, 0.0, 1.0),
          std::clamp(shown.blue, 0.0, 1.0)};
}

std::array<std::uint8_t, 1024> ramp_bytes() {
  std::array<std::uint8_t, 1024> bytes{};
  const auto byte = [](double part) {
    return static_cast<std::uint8_t>(std::lround(part * 255.0));
  };
  for (std::size_t step = 0; step < 256; ++step) {
    const Rgb colour = ramp(static_cast<double>(step) / 255.0);
    bytes[4 * step] = byte(colour.red);
    bytes[4 * step + 1] = byte(colour.green);
    bytes[4 * step + 2] = byte(colour.blue);
    bytes[4 * step + 3] = 255;
  }
  return bytes;
}

}  // namespace look
