// Which power of ten lies between a unit of the file and SI.
#include "files/unit_text.h"

#include "files/decimal.h"

namespace files {
namespace {

/// Exponent of ten that takes a number in the unit to SI.
int shift_to_si(dish::ranges::Unit unit) {
  using dish::ranges::Unit;
  if (unit == Unit::millimetre || unit == Unit::milliradian) return -3;
  if (unit == Unit::newton_per_mm) return 3;
  return 0;
}

}  // namespace

std::optional<double> si_from_text(dish::ranges::Unit unit, std::string_view text) {
  if (unit == dish::ranges::Unit::degree) return rad_from_degrees_text(text);
  return number_from_text(text, shift_to_si(unit));
}

std::string text_from_si(dish::ranges::Unit unit, double si) {
  if (unit == dish::ranges::Unit::degree) return degrees_text_from_rad(si);
  return text_from_number(si, -shift_to_si(unit));
}

}  // namespace files
