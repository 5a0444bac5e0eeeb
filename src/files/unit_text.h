// Values in the units of the file as text, exact both ways (see decimal.h).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "dish/ranges.h"

namespace files {

/// SI value of a number written in `unit`; nothing when the text is no number.
std::optional<double> si_from_text(dish::ranges::Unit unit, std::string_view text);

/// Shortest text in `unit` that reads back to exactly `si`, which must be finite.
std::string text_from_si(dish::ranges::Unit unit, double si);

}  // namespace files
