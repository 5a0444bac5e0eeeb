// Angles written in degrees, exact both ways.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

#include "base/check.h"
#include "base/units.h"
#include "files/decimal.h"

namespace files {
namespace {

constexpr std::size_t k_exact_digits = 17;
constexpr int k_smallest_point = -250;

/// An unevaluated sum of two doubles, good for about 31 decimal digits.
struct Pair {
  double high = 0.0;
  double low = 0.0;
};

/// Value of the first 18 digits of a decimal, times ten to its power.
Pair pair_from_decimal(const Decimal& decimal) {
  const std::size_t count = std::min<std::size_t>(decimal.digits.size(), 18);
  std::int64_t whole = 0;
  for (std::size_t i = 0; i < count; ++i) whole = whole * 10 + (decimal.digits[i] - '0');
  Pair pair{.high = static_cast<double>(whole)};
  pair.low = static_cast<double>(whole - static_cast<std::int64_t>(pair.high));

  // Scale by powers of ten that are exact doubles; fused products give the rounding errors.
  int power = decimal.point - static_cast<int>(count);
  while (power != 0) {
    const int step = std::min(std::abs(power), 22);
    double ten = 1.0;
    for (int i = 0; i < step; ++i) ten *= 10.0;
    Pair scaled;
    if (power < 0) {
      scaled.high = pair.high / ten;
      scaled.low = (std::fma(-scaled.high, ten, pair.high) + pair.low) / ten;
    } else {
      scaled.high = pair.high * ten;
      scaled.low = std::fma(pair.high, ten, -scaled.high) + pair.low * ten;
    }
    pair.high = scaled.high + scaled.low;
    pair.low = scaled.low - (pair.high - scaled.high);
    power += power < 0 ? step : -step;
  }
  return pair;
}

/// The double nearest to decimal * pi / 180, for an angle of ordinary size.
double nearest_rad(const Decimal& decimal) {
  constexpr Pair k_rad_per_deg{.high = 0.017453292519943295, .low = 2.9486522708701687e-19};
  const Pair deg = pair_from_decimal(decimal);
  const double product = deg.high * k_rad_per_deg.high;
  const double rest = std::fma(deg.high, k_rad_per_deg.high, -product) +
                      (deg.high * k_rad_per_deg.low + deg.low * k_rad_per_deg.high);
  return decimal.negative ? -(product + rest) : product + rest;
}

/// `value` > 0 rounded to some significant digits.
Decimal rounded(double value, int count) {
  const std::optional<Decimal> decimal = parse_decimal(fmt::format("{:.{}e}", value, count - 1));
  CHECK(decimal.has_value(), "a finite number has decimal text");
  return *decimal;
}

/// Text with all its digits, trailing zeros too: 17 of them say that the exact product is meant.
std::string to_long_text(const Decimal& decimal) {
  const std::string sign = decimal.negative ? "-" : "";
  if (decimal.point > 0 && decimal.point < 10) {
    std::string digits = decimal.digits;
    return sign + digits.insert(static_cast<std::size_t>(decimal.point), ".");
  }
  return fmt::format("{}{}.{}e{}", sign, decimal.digits[0], decimal.digits.substr(1),
                     decimal.point - 1);
}

/// The decimal whose digits, read as a whole number, are larger by `steps`.
Decimal stepped(const Decimal& decimal, std::int64_t steps) {
  std::int64_t whole = 0;
  for (const char c : decimal.digits) whole = whole * 10 + (c - '0');
  std::string digits = std::to_string(whole + steps);
  const int grown = static_cast<int>(digits.size()) - static_cast<int>(decimal.digits.size());
  digits.resize(decimal.digits.size(), '0');
  return {.negative = decimal.negative, .digits = digits, .point = decimal.point + grown};
}

/// Shortest text of up to 16 digits whose plain product is `rad` > 0; empty when there is none.
std::string short_degrees(double rad, double deg) {
  const double inf = std::numeric_limits<double>::infinity();
  const std::array<double, 3> candidates{deg, std::nextafter(deg, 0.0), std::nextafter(deg, inf)};
  for (int count = 1; count < static_cast<int>(k_exact_digits); ++count) {
    for (const double candidate : candidates) {
      const Decimal decimal = rounded(candidate, count);
      const std::optional<double> back = nearest_double(decimal);
      if (back && base::rad_from_deg(*back) == rad) return to_text(decimal);
    }
  }
  return "";
}

}  // namespace

std::optional<double> rad_from_degrees_text(std::string_view text) {
  const std::optional<Decimal> decimal = parse_decimal(text);
  if (!decimal) return std::nullopt;
  if (decimal->digits.empty() || decimal->point < k_smallest_point) return 0.0;
  const std::optional<double> deg = nearest_double(*decimal);
  if (!deg) return std::nullopt;
  if (decimal->digits.size() < k_exact_digits) return base::rad_from_deg(*deg);
  const double rad = nearest_rad(*decimal);
  return std::isfinite(rad) ? rad : base::rad_from_deg(*deg);
}

std::string degrees_text_from_rad(double rad) {
  CHECK(std::isfinite(rad), "only finite numbers are written to files");
  const double size = std::abs(rad);
  const double deg = base::deg_from_rad(size);
  CHECK(std::isfinite(deg), "angles are far smaller than the largest number");
  if (size == 0.0 || rounded(deg, 17).point < k_smallest_point) return "0";
  const std::string sign = rad < 0.0 ? "-" : "";
  const std::string text = short_degrees(size, deg);
  if (!text.empty()) return sign + text;

  // Not the product of any double: look among the 17-digit decimals nearby, nearest first.
  const Decimal middle = rounded(deg, static_cast<int>(k_exact_digits));
  for (std::int64_t step = 0; step < 100; ++step) {
    for (const std::int64_t steps : {step, -step}) {
      const Decimal decimal = stepped(middle, steps);
      if (nearest_rad(decimal) == size) return sign + to_long_text(decimal);
    }
  }
  CHECK(false, "17 digits lie closer together than doubles do");
  return "";
}

}  // namespace files
