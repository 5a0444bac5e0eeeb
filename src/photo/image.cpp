// Photographs to linear grey light, reduced by whole numbers.
#include "photo/image.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/elementary.h"

namespace photo {
namespace {

constexpr int k_top_of_a_colour = 252;

std::array<std::uint16_t, 256> make_linear_of_srgb() {
  std::array<std::uint16_t, 256> table{};
  for (std::size_t k = 0; k < table.size(); ++k) {
    const double s = static_cast<double>(k) / 255.0;
    const double linear =
        s <= 0.04045 ? s / 12.92 : base::exp_of(2.4 * base::log_positive((s + 0.055) / 1.055));
    table[k] = static_cast<std::uint16_t>(std::floor(linear * k_full_scale + 0.5));
  }
  return table;
}

std::uint32_t light_of(const std::array<std::uint16_t, 256>& table, const std::uint8_t* pixel,
                       bool is_grey) {
  if (is_grey) return pixel[0] >= k_top_of_a_colour ? k_full_scale : table[pixel[0]];
  if (std::max({pixel[0], pixel[1], pixel[2]}) >= k_top_of_a_colour) return k_full_scale;
  return (static_cast<std::uint32_t>(table[pixel[0]]) + 2u * table[pixel[1]] + table[pixel[2]] +
          2u) >>
         2u;
}

}  // namespace

const std::array<std::uint16_t, 256>& linear_of_srgb() {
  static const std::array<std::uint16_t, 256> table = make_linear_of_srgb();
  return table;
}

base::Result<Reducer> Reducer::start(std::int64_t width, std::int64_t height, int channels,
                                     const std::string& name) {
  const std::string size = fmt::format("{} x {} pixels", width, height);
  if (width < k_least_side_px || height < k_least_side_px) {
    return base::Problem{name, size,
                         fmt::format("a photo of at least {0} x {0} pixels", k_least_side_px)};
  }
  const auto most = static_cast<std::int64_t>(k_most_photo_px);
  if (width > most || height > most / width) {
    return base::Problem{name, size,
                         fmt::format("at most {} million pixels", k_most_photo_px / 1'000'000)};
  }
  if (channels != 1 && channels != 3 && channels != 4) {
    return base::Problem{name, fmt::format("{} channels", channels), "1 (grey), 3 or 4 channels"};
  }
  Reducer reducer;
  std::int64_t n = 1;
  while ((width / n) * (height / n) > static_cast<std::int64_t>(k_most_kept_px)) ++n;
  if (width / n < 1 || height / n < 1) {
    return base::Problem{name, size, "a photo that is not a thin strip"};
  }
  reducer.channels_ = channels;
  reducer.image_.width = static_cast<int>(width / n);
  reducer.image_.height = static_cast<int>(height / n);
  reducer.image_.reduction = static_cast<int>(n);
  reducer.image_.light.reserve(static_cast<std::size_t>((width / n) * (height / n)));
  reducer.sums_.assign(static_cast<std::size_t>(reducer.image_.width), 0);
  return reducer;
}

template <int channels>
void Reducer::add(const std::uint8_t* row) {
  const auto& table = linear_of_srgb();
  const int n = image_.reduction;
  for (std::uint32_t& sum : sums_) {
    for (int k = 0; k < n; ++k, row += channels) sum += light_of(table, row, channels == 1);
  }
}

void Reducer::add_row(const std::uint8_t* row) {
  const int n = image_.reduction;
  if (rows_ >= static_cast<std::int64_t>(image_.height) * n) return;
  if (channels_ == 1) add<1>(row);
  if (channels_ == 3) add<3>(row);
  if (channels_ == 4) add<4>(row);
  if (++rows_ % n != 0) return;
  const auto cells = static_cast<std::uint32_t>(n * n);
  for (std::uint32_t& sum : sums_) {
    image_.light.push_back(static_cast<std::uint16_t>((sum + cells / 2) / cells));
    sum = 0;
  }
}

Image Reducer::finish() && {
  image_.light.resize(static_cast<std::size_t>(image_.width) *
                      static_cast<std::size_t>(image_.height));
  return std::move(image_);
}

base::Result<Image> image_of_bytes(std::int64_t width, std::int64_t height, int channels,
                                   std::string_view bytes, const std::string& name) {
  auto reducer = Reducer::start(width, height, channels, name);
  if (!reducer) return reducer.problems();
  const std::size_t row = static_cast<std::size_t>(width) * static_cast<std::size_t>(channels);
  if (bytes.size() != row * static_cast<std::size_t>(height)) {
    return base::Problem{name, fmt::format("{} bytes of pixels", bytes.size()),
                         fmt::format("{} x {} x {} bytes", width, height, channels)};
  }
  Reducer taken = std::move(reducer).value();
  for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y) {
    taken.add_row(reinterpret_cast<const std::uint8_t*>(bytes.data()) + y * row);
  }
  return std::move(taken).finish();
}

Image upright(Image image, int orientation) {
  if (orientation < 2 || orientation > 8) return image;
  const bool lies = orientation >= 5;
  Image turned{.width = lies ? image.height : image.width,
               .height = lies ? image.width : image.height,
               .reduction = image.reduction,
               .light = std::vector<std::uint16_t>(image.light.size())};
  // What stands first in the file: 2 and 3 the right side, 3 and 4 the bottom, 5 to 8 a column.
  const bool from_right =
      orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
  const bool from_bottom =
      orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
  std::size_t to = 0;
  for (int y = 0; y < turned.height; ++y) {
    for (int x = 0; x < turned.width; ++x) {
      int from_x = lies ? y : x;
      int from_y = lies ? x : y;
      if (from_right) from_x = image.width - 1 - from_x;
      if (from_bottom) from_y = image.height - 1 - from_y;
      turned.light[to++] = image.at(from_x, from_y);
    }
  }
  return turned;
}

std::vector<std::uint8_t> root_code(const Image& image) {
  // The root of every light by its upper bytes; the lowest 256 on their own.
  std::array<std::uint8_t, 4096> of_upper{};
  std::array<std::uint8_t, 256> of_lowest{};
  const auto code = [](double light) {
    return static_cast<std::uint8_t>(255.0 * std::sqrt(light / k_full_scale) + 0.5);
  };
  for (std::size_t k = 0; k < of_upper.size(); ++k) {
    of_upper[k] = code(16.0 * static_cast<double>(k) + 7.5);
  }
  for (std::size_t k = 0; k < of_lowest.size(); ++k) of_lowest[k] = code(static_cast<double>(k));
  std::vector<std::uint8_t> codes(image.light.size());
  std::transform(image.light.begin(), image.light.end(), codes.begin(), [&](std::uint16_t light) {
    return light < 256 ? of_lowest[light] : of_upper[light >> 4u];
  });
  return codes;
}

}  // namespace photo
