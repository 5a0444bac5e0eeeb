// Reads one tag of Exif.
#include "photo/exif.h"

#include <cstddef>
#include <cstdint>

namespace photo {
namespace {

constexpr int k_upright = 1;
constexpr std::uint32_t k_orientation_tag = 274;
constexpr std::uint32_t k_short_type = 3;

/// Whole numbers of a TIFF in its own byte order; 0 beyond the end.
struct TiffBytes {
  std::string_view bytes;
  bool is_little = false;

  [[nodiscard]] std::uint32_t number(std::size_t at, std::size_t length) const {
    if (at > bytes.size() || bytes.size() - at < length) return 0;
    std::uint32_t value = 0;
    for (std::size_t k = 0; k < length; ++k) {
      const std::size_t place = is_little ? at + length - 1 - k : at + k;
      value = value << 8u | static_cast<std::uint8_t>(bytes[place]);
    }
    return value;
  }
};

}  // namespace

int exif_orientation(std::string_view segment) {
  constexpr std::string_view k_head("Exif\0\0", 6);
  if (segment.substr(0, k_head.size()) != k_head) return k_upright;
  const std::string_view bytes = segment.substr(k_head.size());
  const TiffBytes tiff{bytes, bytes.substr(0, 2) == "II"};
  if (!tiff.is_little && bytes.substr(0, 2) != "MM") return k_upright;
  const std::size_t directory = tiff.number(4, 4);
  const std::uint32_t entries = tiff.number(directory, 2);
  for (std::size_t k = 0; k < entries; ++k) {
    const std::size_t entry = directory + 2 + 12 * k;
    if (entry >= bytes.size()) break;
    if (tiff.number(entry, 2) != k_orientation_tag) continue;
    const std::uint32_t value = tiff.number(entry + 8, 2);
    const bool is_whole = tiff.number(entry + 2, 2) == k_short_type && value >= 1 && value <= 8;
    return is_whole ? static_cast<int>(value) : k_upright;
  }
  return k_upright;
}

}  // namespace photo
