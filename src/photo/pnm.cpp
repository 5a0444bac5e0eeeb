// Reads binary grey and colour maps.
#include "photo/pnm.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

namespace photo {
namespace {

constexpr bool is_white(char c) { return c == ' ' || (c >= '\t' && c <= '\r'); }

/// The next whole number of a heading and the byte after it; at most nine digits.
std::optional<std::int64_t> heading_number(std::string_view bytes, std::size_t& at) {
  while (at < bytes.size() && (is_white(bytes[at]) || bytes[at] == '#')) {
    if (bytes[at] == '#') at = std::min(bytes.find('\n', at), bytes.size() - 1);
    ++at;
  }
  std::int64_t value = 0;
  std::size_t digits = 0;
  for (; at < bytes.size() && bytes[at] >= '0' && bytes[at] <= '9' && digits < 10; ++at, ++digits) {
    value = 10 * value + (bytes[at] - '0');
  }
  if (digits == 0 || digits > 9) return std::nullopt;
  return value;
}

}  // namespace

bool looks_like_pnm(std::string_view bytes) {
  return bytes.size() >= 3 && bytes[0] == 'P' && bytes[1] >= '1' && bytes[1] <= '7' &&
         (is_white(bytes[2]) || bytes[2] == '#');
}

base::Result<Image> read_pnm(std::string_view bytes, const std::string& name) {
  if (!looks_like_pnm(bytes) || (bytes[1] != '5' && bytes[1] != '6')) {
    return base::Problem{name, fmt::format("starts with \"{}\"", bytes.substr(0, 2)),
                         "a binary grey or colour map (P5 or P6)"};
  }
  std::size_t at = 2;
  std::array<std::int64_t, 3> numbers{};
  for (std::int64_t& number : numbers) {
    const auto read = heading_number(bytes, at);
    if (!read) return base::Problem{name, "a broken heading", "width, height and 255 in digits"};
    number = *read;
  }
  if (numbers[2] != 255) {
    return base::Problem{name, fmt::format("samples up to {}", numbers[2]), "samples up to 255"};
  }
  if (at >= bytes.size() || !is_white(bytes[at])) {
    return base::Problem{name, "the heading ends the file", "pixels after the heading"};
  }
  const int channels = bytes[1] == '5' ? 1 : 3;
  const auto start = Reducer::start(numbers[0], numbers[1], channels, name);
  if (!start) return start.problems();
  std::string_view pixels = bytes.substr(at + 1);
  const std::size_t needed = static_cast<std::size_t>(numbers[0]) *
                             static_cast<std::size_t>(numbers[1]) *
                             static_cast<std::size_t>(channels);
  if (pixels.size() < needed) {
    return base::Problem{name, fmt::format("{} bytes of pixels", pixels.size()),
                         fmt::format("{}: the file is cut short", needed)};
  }
  return image_of_bytes(numbers[0], numbers[1], channels, pixels.substr(0, needed), name);
}

}  // namespace photo
