// All text of numbers on the page that is not typed in.
#include "page/widgets/numbers.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace widgets {
namespace {

constexpr const char* k_minus = "\xE2\x88\x92";
constexpr const char* k_thin_space = "\xE2\x80\xAF";
constexpr const char* k_dash = "\xE2\x80\x93";

// Groups of three before the decimal point, from five digits on.
std::string grouped(const std::string& digits) {
  const std::size_t whole = std::min(digits.find('.'), digits.size());
  if (whole < 5) return digits;
  std::string text;
  for (std::size_t i = 0; i < whole; ++i) {
    if (i > 0 && (whole - i) % 3 == 0) text += k_thin_space;
    text += digits[i];
  }
  return text + digits.substr(whole);
}

std::string with_sign(double value, const std::string& size) {
  const bool is_zero = size.find_first_of("123456789") == std::string::npos;
  return value < 0.0 && !is_zero ? k_minus + size : size;
}

}  // namespace

std::string decimals(double value, int places) {
  if (!std::isfinite(value)) return k_dash;
  return with_sign(value, grouped(fmt::format("{:.{}f}", std::abs(value), places)));
}

std::string figures(double value, int digits) {
  if (!std::isfinite(value)) return k_dash;
  if (value == 0.0) return "0";
  const double scale = std::pow(10.0, digits - 1 - std::floor(std::log10(std::abs(value))));
  const double rounded = std::round(std::abs(value) * scale) / scale;
  const int before = static_cast<int>(std::floor(std::log10(rounded))) + 1;
  return with_sign(value, grouped(fmt::format("{:.{}f}", rounded, std::max(digits - before, 0))));
}

std::string plain(double value) {
  std::string text = figures(value, 3);
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string watts(double value_W) {
  if (std::abs(value_W) >= 9995.0) return figures(value_W / 1000.0, 4) + " kW";
  if (std::abs(value_W) >= 999.5) return figures(value_W / 1000.0, 3) + " kW";
  return (std::abs(value_W) < 9.95 ? decimals(value_W, 1) : decimals(value_W, 0)) + " W";
}

std::string flux(double value_W_m2) {
  if (std::abs(value_W_m2) >= 999.5) return figures(value_W_m2 / 1000.0, 3) + " kW/m²";
  return decimals(value_W_m2, 0) + " W/m²";
}

std::string millimetres(double value_m) {
  const double mm = base::mm_from_m(value_m);
  return decimals(mm, std::abs(mm) < 99.95 ? 1 : 0) + " mm";
}

std::string percent(double share) {
  return decimals(100.0 * share, share > 0.9995 || share < 0.0995 ? 2 : 1) + " %";
}

std::string count(double value) {
  if (value >= 999'500.0) return figures(value / 1e6, 3) + " million";
  return decimals(value, 0);
}

}  // namespace widgets
