// Numbers come from the session's derived results; here they are only ranged and coloured.
#include "page/yard/tint.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units.h"
#include "page/look/ramp.h"
#include "page/look/theme.h"
#include "page/widgets/chart.h"
#include "page/yard/palette.h"
#include "session/figures.h"

namespace yard {
namespace {

constexpr double k_none = std::numeric_limits<double>::quiet_NaN();

glm::vec3 kind_colour(std::size_t kind) {
  const look::Theme& theme = look::theme();
  const ImU32 colours[] = {theme.cool, theme.copper, theme.doubt, theme.ok, theme.ink_soft};
  return rgb(colours[kind % std::size(colours)]);
}

TintScale by_kind(const dish::Dish& dish) {
  TintScale scale{.title = "Kind of facet",
                  .what = "Facets of one kind share outline and surface."};
  for (const dish::FacetType& type : dish.facet_types) scale.kinds.push_back(type.name.text);
  for (const dish::Facet& facet : dish.facets) {
    const auto found =
        std::find_if(dish.facet_types.begin(), dish.facet_types.end(),
                     [&](const dish::FacetType& type) { return type.name == facet.type; });
    scale.values.push_back(static_cast<double>(found - dish.facet_types.begin()));
  }
  return scale;
}

// How each measured tint reads: what the session tells in SI becomes the unit of the trade.
struct Reading {
  const char* title;
  const char* unit;
  const char* what;
  double per_si;
};

Reading reading_of(session::Tint tint) {
  if (tint == session::Tint::power) {
    return {"On the receiver", "W",
            "What each facet brings onto the receiver now, by the quick evaluation.", 1.0};
  }
  if (tint == session::Tint::spread) {
    return {"Spread of its light", "mm",
            "Rms radius of each facet's own light in the receiver's plane, about its own middle.",
            base::mm_from_m(1.0)};
  }
  if (tint == session::Tint::tilt) {
    return {"Tilt from nominal", "mrad",
            "Angle between the facet's normal as built and its nominal one.",
            base::mrad_from_rad(1.0)};
  }
  return {"Travel left", "mm", "The least that any of the facet's screws has left either way.",
          base::mm_from_m(1.0)};
}

TintScale measured(const session::Session& session) {
  const Reading reading = reading_of(session.preferences.tint);
  TintScale scale{.title = reading.title, .unit = reading.unit, .what = reading.what};
  const auto span = session::tint_span(session);
  if (!span.has_value()) return scale;
  for (std::size_t i = 0; i < session.document.dish.facets.size(); ++i) {
    scale.values.push_back(reading.per_si * session::tint_value(session, i).value_or(k_none));
  }
  scale.least = std::min(0.0, reading.per_si * span->least);
  // A round end, so that the legend does not flicker while dragging.
  scale.most = widgets::round_above(reading.per_si * span->most);
  return scale;
}

TintScale in_shadow() {
  return {.title = "In the light",
          .unit = "%",
          .what =
              "Where the glass sees the sun and its light gets away, and where something "
              "stands between: with a perfect mirror, at a few points of the sun's disc.",
          .most = 100.0,
          .is_painted = true};
}

}  // namespace

TintScale tint_scale(const session::Session& session) {
  switch (session.preferences.tint) {
    case session::Tint::plain:
      return {};
    case session::Tint::kind:
      return by_kind(session.document.dish);
    case session::Tint::shadow:
      return in_shadow();
    default:
      return measured(session);
  }
}

glm::vec3 tint_colour(const TintScale& scale, double value) {
  if (!scale.kinds.empty()) return kind_colour(static_cast<std::size_t>(value));
  const double share = std::clamp((value - scale.least) / (scale.most - scale.least), 0.0, 1.0);
  const look::Rgb colour = look::ramp(k_tint_from + (1.0 - k_tint_from) * share);
  return {static_cast<float>(colour.red), static_cast<float>(colour.green),
          static_cast<float>(colour.blue)};
}

std::vector<std::uint8_t> facet_marks(const session::Session& session, const TintScale& scale) {
  const auto& facets = session.document.dish.facets;
  std::vector<std::uint8_t> bytes(std::size_t{1024} * (facets.size() / 256 + 1));
  for (std::size_t i = 0; i < facets.size(); ++i) {
    std::uint8_t* mark = &bytes[4 * i];
    if (i < scale.values.size() && std::isfinite(scale.values[i])) {
      const glm::vec3 colour = tint_colour(scale, scale.values[i]);
      for (int part = 0; part < 3; ++part) {
        mark[part] = static_cast<std::uint8_t>(std::lround(255.0f * colour[part]));
      }
      mark[3] = 128;
    }
    if (session.selection.hovered == facets[i].id) mark[3] |= 1;
    if (session.selection.selected == facets[i].id)
      mark[3] = static_cast<std::uint8_t>((mark[3] & 128) | 2);
  }
  return bytes;
}

}  // namespace yard
