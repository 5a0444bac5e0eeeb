// Numbers as decimal text, exact both ways: a file says 0.7 mm, the dish holds 0.0007 m, and
// neither direction goes through a multiplication that would leave 0.7000000000000001 behind.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace files {

/// A decimal number as it is written: (-1)^negative * 0.d1d2d3... * 10^point. `digits` has no
/// leading zeros and keeps trailing ones; zero has no digits.
struct Decimal {
  bool negative = false;
  std::string digits;
  int point = 0;
};

/// Longest number text that is looked at, in characters.
inline constexpr std::size_t k_longest_number = 400;

/// Reads [+-]digits[.digits][e[+-]digits]; ".5" and "5." count. Nothing for any other text (spaces,
/// NaN, Infinity, hexadecimal) and for text longer than k_longest_number.
std::optional<Decimal> parse_decimal(std::string_view text);

/// Canonical text: no trailing zeros, no plus, no minus before zero; with a power of ten only
/// outside 1e-6 .. 1e17.
std::string to_text(const Decimal& decimal);

/// The double nearest to `decimal`; nothing when it is too large for one.
std::optional<double> nearest_double(const Decimal& decimal);

/// The double nearest to (number in `text`) * 10^shift: text in mm with shift -3 gives metres.
std::optional<double> number_from_text(std::string_view text, int shift = 0);

/// Shortest decimal of `value`, times 10^shift: the text in mm of metres with shift +3. `value`
/// must be finite. For every finite double number_from_text(text_from_number(x, s), -s) is x.
std::string text_from_number(double value, int shift = 0);

/// Radians of an angle written in degrees. Up to 16 digits it is base::rad_from_deg of the number,
/// so that a field on screen and a file agree to the last bit. With 17 digits or more it is the
/// double nearest to the exact product with pi/180, because products of doubles do not reach every
/// double. Angles under 1e-250 degrees are zero.
std::optional<double> rad_from_degrees_text(std::string_view text);

/// Shortest text in degrees that rad_from_degrees_text reads back to the same double. `rad` must be
/// finite.
std::string degrees_text_from_rad(double rad);

}  // namespace files
