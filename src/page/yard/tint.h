// What the facets' colours say: one number or kind for each facet, and the legend that explains it.
#pragma once

#include <cstdint>
#include <glm/vec3.hpp>
#include <string>
#include <vector>

#include "session/session.h"

namespace yard {

/// Values for all facets, or kinds, in the dish's order. Not a number where there is none.
struct TintScale {
  std::string title;
  std::string unit;            ///< empty for kinds
  std::string what;            ///< one sentence for the tooltip
  std::vector<double> values;  ///< in `unit`
  double least = 0.0;
  double most = 1.0;
  bool is_painted = false;         ///< on the glass itself, not one value for each facet
  std::vector<std::string> kinds;  ///< names, when the values are indices of kinds
};

/// The scale of the session's chosen tint. Empty values: facets keep their own look.
TintScale tint_scale(const session::Session& session);

/// Colour of a value on its scale, 0..1 each.
glm::vec3 tint_colour(const TintScale& scale, double value);

/// Marks for the tile shader, four bytes a facet in rows of 256: colour, then 128 when coloured
/// plus 1 hovered, 2 selected.
std::vector<std::uint8_t> facet_marks(const session::Session& session, const TintScale& scale);

}  // namespace yard
