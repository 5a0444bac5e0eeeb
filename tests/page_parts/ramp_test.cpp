// The map's colour scale: OKLab itself against outside numbers, and the scale against its promises.
#include "page/look/ramp.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/figures.h"

namespace {

/// Sources: Ottosson, "A perceptual color space for image processing" (2020): D65 white is L = 1, a
/// = b = 0. MDN Web Docs, CSS oklab(), which prints sRGB red as 0.628 0.225 0.126. Tolerance: half
/// a unit of the printed digits. Today's differences: 4.5e-5, 1.4e-4, 1.5e-4.
constexpr double k_printed = 5e-4;

}  // namespace

TEST_CASE("OKLab of white and of red is what is printed") {
  const look::Oklab white = look::oklab_from_rgb({1.0, 1.0, 1.0});
  CHECK(white.lightness == doctest::Approx(1.0).epsilon(1e-6));
  CHECK(std::abs(white.a) < 1e-4);
  CHECK(std::abs(white.b) < 1e-4);
  const look::Oklab red = look::oklab_from_rgb({1.0, 0.0, 0.0});
  CHECK(std::abs(red.lightness - 0.628) < k_printed);
  CHECK(std::abs(red.a - 0.225) < k_printed);
  CHECK(std::abs(red.b - 0.126) < k_printed);
}

TEST_CASE("OKLab and back is the same colour") {
  for (double red = 0.0; red <= 1.0; red += 0.25)
    for (double green = 0.0; green <= 1.0; green += 0.25)
      for (double blue = 0.0; blue <= 1.0; blue += 0.25) {
        const look::Rgb back = look::rgb_from_oklab(look::oklab_from_rgb({red, green, blue}));
        // The two published matrices are rounded to ten digits.
        CHECK(std::abs(back.red - red) < 1e-5);
        CHECK(std::abs(back.green - green) < 1e-5);
        CHECK(std::abs(back.blue - blue) < 1e-5);
      }
}

TEST_CASE("The scale's lightness rises with the value, evenly") {
  double before = -1.0;
  for (int step = 0; step <= 1000; ++step) {
    const double share = step / 1000.0;
    const double lightness = look::oklab_from_rgb(look::ramp(share)).lightness;
    CHECK(lightness > before);
    CHECK(std::abs(lightness - (0.20 + 0.76 * share)) < 2e-3);
    before = lightness;
  }
}

TEST_CASE("Equal steps of the value look about equal") {
  double least = 1.0;
  double most = 0.0;
  look::Oklab before = look::oklab_from_rgb(look::ramp(0.0));
  for (int step = 1; step <= 32; ++step) {
    const look::Oklab now = look::oklab_from_rgb(look::ramp(step / 32.0));
    const double distance =
        std::hypot(now.lightness - before.lightness, now.a - before.a, now.b - before.b);
    least = std::min(least, distance);
    most = std::max(most, distance);
    before = now;
  }
  CHECK(most / least < 1.8);
  support::record_figure("ramp: largest step over smallest", most / least);
}

TEST_CASE("Night blue at the bottom, copper past the middle, straw at the top") {
  const look::Rgb night = look::ramp(0.0);
  CHECK(night.blue > 2.0 * night.red);
  const look::Rgb copper = look::ramp(0.58);
  CHECK(copper.red > copper.green);
  CHECK(copper.green > copper.blue);
  const look::Rgb straw = look::ramp(1.0);
  CHECK(straw.red > 0.9);
  CHECK(straw.green > 0.9);
  CHECK(straw.blue < straw.green);
}

TEST_CASE("Values outside the scale take its ends") {
  CHECK(look::ramp(-3.0).blue == look::ramp(0.0).blue);
  CHECK(look::ramp(7.0).red == look::ramp(1.0).red);
  CHECK(look::ramp(std::nan("")).green == look::ramp(0.0).green);
}

TEST_CASE("The table of bytes is the scale") {
  const auto bytes = look::ramp_bytes();
  CHECK(bytes[0] == std::lround(look::ramp(0.0).red * 255.0));
  CHECK(bytes[4 * 255 + 1] == std::lround(look::ramp(1.0).green * 255.0));
  CHECK(bytes[4 * 100 + 3] == 255);
}
