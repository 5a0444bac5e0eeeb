// Photographs as they come in: light, reduction, the way up, and files that are refused.
#include "photo/image.h"

#include <doctest/doctest.h>

#include <numeric>

#include "photo/pnm.h"
#include "support/says.h"

namespace {

using photo::Image;
using support::says;

std::string problem_of(const base::Result<Image>& result) {
  REQUIRE(!result.ok());
  return base::to_text(result.problems());
}

Image image_of(std::int64_t width, std::int64_t height, int channels, const std::string& bytes) {
  auto image = photo::image_of_bytes(width, height, channels, bytes, "photo");
  REQUIRE(image.ok());
  return std::move(image).value();
}

}  // namespace

TEST_CASE("light of 8-bit values follows the standard's curve") {
  // IEC 61966-2-1: 0.04045 is where the parts meet (code 10 is below, 11 above); the value of code
  // 188 is 0.5029 and of code 128 0.2159 by the standard's formula (computed in decimal, five
  // places). Rounded to 65535ths: 1e-5. Today's difference below 8e-6.
  const auto& table = photo::linear_of_srgb();
  CHECK(table[0] == 0);
  CHECK(table[255] == 65535);
  CHECK(table[10] / 65535.0 == doctest::Approx(10.0 / 255.0 / 12.92).epsilon(1e-2));
  CHECK(std::abs(table[11] / 65535.0 - 0.0033465) < 1e-5);
  CHECK(std::abs(table[128] / 65535.0 - 0.2158605) < 1e-5);
  CHECK(std::abs(table[188] / 65535.0 - 0.5028865) < 1e-5);
  for (std::size_t k = 1; k < table.size(); ++k) CHECK(table[k] > table[k - 1]);
}

TEST_CASE("reduction means light, not codes, and keeps places") {
  // A chessboard of black and white pixels is half full scale, whatever its codes.
  const std::int64_t width = 3000;
  const std::int64_t height = 2800;
  std::string bytes(static_cast<std::size_t>(width * height), '\0');
  for (std::int64_t k = 0; k < width * height; ++k) {
    if ((k % width + k / width) % 2 == 0) bytes[static_cast<std::size_t>(k)] = '\xff';
  }
  const Image image = image_of(width, height, 1, bytes);
  CHECK(image.reduction == 2);
  CHECK(image.width == 1500);
  CHECK(image.height == 1400);
  for (const auto light : image.light) REQUIRE(light == 32768);
  CHECK(image.size_px().x == 3000.0);
}

TEST_CASE("colours become grey; a colour at the top counts as full scale") {
  std::string bytes;
  for (int k = 0; k < 100 * 100; ++k) bytes += k == 0 ? "\xfe\x10\x10\xff" : "\x80\x80\x80\xff";
  const Image image = image_of(100, 100, 4, bytes);
  CHECK(image.at(0, 0) == photo::k_full_scale);
  CHECK(image.at(1, 0) == photo::linear_of_srgb()[128]);
}

TEST_CASE("the eight ways to hold a camera: Exif's own table of first row and first column") {
  // JEITA CP-3451 (Exif 2.2), tag 274: where the file's row 0 and column 0 are in the scene.
  Image image{.width = 3, .height = 2, .light = {1, 2, 3, 4, 5, 6}};
  const std::vector<std::vector<std::uint16_t>> expected{
      {1, 2, 3, 4, 5, 6}, {3, 2, 1, 6, 5, 4}, {6, 5, 4, 3, 2, 1}, {4, 5, 6, 1, 2, 3},
      {1, 4, 2, 5, 3, 6}, {4, 1, 5, 2, 6, 3}, {6, 3, 5, 2, 4, 1}, {3, 6, 2, 5, 1, 4}};
  for (int orientation = 1; orientation <= 8; ++orientation) {
    CAPTURE(orientation);
    const Image turned = photo::upright(image, orientation);
    CHECK(turned.light == expected[static_cast<std::size_t>(orientation - 1)]);
    CHECK(turned.width == (orientation < 5 ? 3 : 2));
  }
  CHECK(photo::upright(image, 0).light == image.light);
  CHECK(photo::upright(image, 9).light == image.light);
}

TEST_CASE("photos that are none are refused in words") {
  const auto of = [](std::int64_t w, std::int64_t h, int channels, std::size_t bytes) {
    return problem_of(photo::image_of_bytes(w, h, channels, std::string(bytes, 'x'), "IMG"));
  };
  CHECK(says(of(1, 1, 1, 1), "IMG: 1 x 1 pixels; expected a photo of at least 100 x 100 pixels"));
  CHECK(says(of(-5, 200, 1, 0), "at least 100"));
  CHECK(says(of(20000, 20000, 1, 0), "at most 120 million pixels"));
  CHECK(says(of(4611686018427387904, 400, 4, 0), "at most 120 million pixels"));
  CHECK(says(of(200, 200, 2, 80000), "2 channels"));
  CHECK(says(of(200, 200, 1, 39999), "39999 bytes of pixels; expected 200 x 200 x 1 bytes"));
}

TEST_CASE("plain maps are read, and refused in words") {
  const std::string pixels(100 * 120, '\x80');
  const auto good = photo::read_pnm("P5 # by hand\n100\t120 255\n" + pixels, "a.pgm");
  REQUIRE(good.ok());
  CHECK(good.value().width == 100);
  CHECK(good.value().height == 120);
  CHECK(good.value().at(99, 119) == photo::linear_of_srgb()[128]);
  const auto colour = photo::read_pnm("P6\n100 100 255 " + std::string(30000, '\x40'), "a.ppm");
  REQUIRE(colour.ok());
  CHECK(colour.value().at(50, 50) == photo::linear_of_srgb()[64]);

  const auto refusal = [](const std::string& bytes) {
    return problem_of(photo::read_pnm(bytes, "a.pgm"));
  };
  CHECK(says(refusal("P2 100 100 255 0 0"), "a binary grey or colour map"));
  CHECK(says(refusal("P5 100 100 65535 " + pixels), "samples up to 65535"));
  CHECK(says(refusal("P5 100 120 255 " + pixels.substr(1)), "the file is cut short"));
  CHECK(says(refusal("P5 100"), "a broken heading"));
  CHECK(says(refusal("P5 100 # 3"), "a broken heading"));
  CHECK(says(refusal("P5 99999999999 3 255 "), "a broken heading"));
  CHECK(says(refusal("P5 100 120 255"), "the heading ends the file"));
  CHECK(says(refusal("P5 1 1 255 x"), "at least 100"));
  CHECK(says(refusal("hello"), "starts with \"he\""));
}
