// A photograph as this room works on it: linear light, grey, few enough pixels to be quick.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "base/vec.h"

namespace photo {

inline constexpr std::uint16_t k_full_scale = 65535;
/// From here on a pixel counts as saturated: a cell of averaged pixels nearly all of which are.
inline constexpr std::uint16_t k_saturated_from = 64200;
inline constexpr std::size_t k_most_kept_px = 4'200'000;
inline constexpr std::size_t k_most_photo_px = 120'000'000;
inline constexpr std::int64_t k_least_side_px = 100;

/// Grey light, row by row from the top left; 65535 is the camera's full scale. Places in a photo
/// are measured in the pixels it had before reduction, from its top left corner: the middle of its
/// first pixel is (0.5, 0.5), and a place here times `reduction` is the place there.
struct Image {
  int width = 0;
  int height = 0;
  int reduction = 1;
  std::vector<std::uint16_t> light;

  [[nodiscard]] std::uint16_t at(int x, int y) const {
    return light[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                 static_cast<std::size_t>(x)];
  }
  [[nodiscard]] base::Vec2 size_px() const {
    return {static_cast<double>(width) * reduction, static_cast<double>(height) * reduction};
  }
};

/// Linear light of an 8-bit value, 0 to 65535, rounded.
/// Source: IEC 61966-2-1 (sRGB), the curve of two parts.
const std::array<std::uint16_t, 256>& linear_of_srgb();

/// Takes a photo row by row and keeps means of n x n pixels, n the smallest whole number that
/// leaves at most k_most_kept_px. Means are taken of linear light, so that edges stay where they
/// are. Grey of colours is (R + 2 G + B) / 4; a pixel with any colour at the top (252 or more of
/// 255) counts as full scale, because its true light is not known.
class Reducer {
 public:
  /// Channels: 1 grey, 3 RGB, 4 RGBA (the fourth is not looked at). Problems, whose place is
  /// `name`: fewer than 100 pixels on a side, more than 120 million in all, other channels.
  static base::Result<Reducer> start(std::int64_t width, std::int64_t height, int channels,
                                     const std::string& name);

  /// The next row: width x channels bytes. Rows beyond the height are not looked at.
  void add_row(const std::uint8_t* row);

  /// What came in; rows that did not come are black.
  [[nodiscard]] Image finish() &&;

 private:
  template <int channels>
  void add(const std::uint8_t* row);

  Image image_;
  int channels_ = 1;
  std::int64_t rows_ = 0;
  std::vector<std::uint32_t> sums_;
};

/// A whole photo of 8-bit samples in a row. Problems: those of Reducer::start, a number of bytes
/// that does not fit.
base::Result<Image> image_of_bytes(std::int64_t width, std::int64_t height, int channels,
                                   std::string_view bytes, const std::string& name);

/// The picture upright, from how the camera was held: Exif's orientation 1 to 8 (JEITA CP-3451,
/// tag 274); others leave it as it is.
Image upright(Image image, int orientation);

/// 8-bit code of light, the root of its share of full scale, in which a printed edge looks alike in
/// bright and in dim places.
std::vector<std::uint8_t> root_code(const Image& image);

}  // namespace photo
