// Decimal text to doubles and back; degrees are in decimal_degrees.cpp.
#include "files/decimal.h"

#include <fast_float/fast_float.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace files {
namespace {

constexpr int k_largest_exponent = 100000;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Takes digits off the front of `text`.
std::string_view take_digits(std::string_view& text) {
  const auto end = std::find_if_not(text.begin(), text.end(), is_digit);
  const std::string_view digits = text.substr(0, static_cast<std::size_t>(end - text.begin()));
  text.remove_prefix(digits.size());
  return digits;
}

bool take(std::string_view& text, char c) {
  if (text.empty() || text.front() != c) return false;
  text.remove_prefix(1);
  return true;
}

/// The exponent after its "e": nothing when it is no whole number. Huge ones are clamped, which
/// changes no result because the digits before are few.
std::optional<int> take_exponent(std::string_view& text) {
  const bool negative = take(text, '-');
  if (!negative) take(text, '+');
  const std::string_view digits = take_digits(text);
  if (digits.empty()) return std::nullopt;
  int exponent = 0;
  for (const char c : digits) exponent = std::min(exponent * 10 + (c - '0'), k_largest_exponent);
  return negative ? -exponent : exponent;
}

}  // namespace

std::optional<Decimal> parse_decimal(std::string_view text) {
  if (text.size() > k_longest_number) return std::nullopt;
  Decimal decimal;
  decimal.negative = take(text, '-');
  if (!decimal.negative) take(text, '+');
  const std::string_view whole = take_digits(text);
  const std::string_view fraction = take(text, '.') ? take_digits(text) : std::string_view();
  if (whole.empty() && fraction.empty()) return std::nullopt;
  if (take(text, 'e') || take(text, 'E')) {
    const std::optional<int> exponent = take_exponent(text);
    if (!exponent) return std::nullopt;
    decimal.point = *exponent;
  }
  if (!text.empty()) return std::nullopt;

  // Put the point before the first digit that is not zero.
  decimal.digits.append(whole).append(fraction);
  decimal.point += static_cast<int>(whole.size());
  const std::size_t first = decimal.digits.find_first_not_of('0');
  if (first == std::string::npos) return Decimal{.negative = decimal.negative};
  decimal.digits.erase(0, first);
  decimal.point -= static_cast<int>(first);
  return decimal;
}

std::string to_text(const Decimal& decimal) {
  std::string digits = decimal.digits;
  digits.erase(digits.find_last_not_of('0') + 1);
  if (digits.empty()) return "0";
  const std::string sign = decimal.negative ? "-" : "";
  const int count = static_cast<int>(digits.size());
  if (decimal.point < -5 || decimal.point > 17) {
    const std::string rest = count > 1 ? "." + digits.substr(1) : "";
    return fmt::format("{}{}{}e{}", sign, digits[0], rest, decimal.point - 1);
  }
  if (decimal.point <= 0) {
    return sign + "0." + std::string(static_cast<std::size_t>(-decimal.point), '0') + digits;
  }
  if (decimal.point >= count) {
    return sign + digits + std::string(static_cast<std::size_t>(decimal.point - count), '0');
  }
  return sign + digits.insert(static_cast<std::size_t>(decimal.point), ".");
}

std::optional<double> nearest_double(const Decimal& decimal) {
  if (decimal.digits.empty()) return 0.0;
  const std::string text =
      fmt::format("{}0.{}e{}", decimal.negative ? "-" : "", decimal.digits, decimal.point);
  double value = 0.0;
  const auto parsed = fast_float::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = parsed.ptr == text.data() + text.size();
  CHECK(whole, "a decimal of our own making is always a number");
  if (!std::isfinite(value)) return std::nullopt;
  return value == 0.0 ? 0.0 : value;
}

std::optional<double> number_from_text(std::string_view text, int shift) {
  std::optional<Decimal> decimal = parse_decimal(text);
  if (!decimal) return std::nullopt;
  decimal->point += shift;
  return nearest_double(*decimal);
}

std::string text_from_number(double value, int shift) {
  CHECK(std::isfinite(value), "only finite numbers are written to files");
  std::optional<Decimal> decimal = parse_decimal(fmt::format("{}", value));
  CHECK(decimal.has_value(), "a finite number has decimal text");
  decimal->point += shift;
  return to_text(*decimal);
}

}  // namespace files
