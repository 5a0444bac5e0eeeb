// Names and explanations of the ledger's accounts.
#include "page/panels/ledger_words.h"

#include <fmt/format.h>

#include <cmath>

namespace page {

std::vector<LedgerRow> ledger_rows(const optics::Ledger& l) {
  return {
      {"sun aside", "lost because the dish does not face the sun squarely", l.cosine_W},
      {"gaps",
       "sunlight on the aperture that meets no facet; less than nothing where facets "
       "overlap as seen from the sun",
       l.gaps_W},
      {"shading", "stopped on the way in: by the secondary, the receiver, struts, or a neighbour",
       l.shading_W},
      {"facet mirrors", "absorbed or scattered by the facets' reflectance", l.facet_absorption_W},
      {"blocking", "stopped after a facet, before the next thing it should meet", l.blocking_W},
      {"missed secondary", "passed the secondary's rim or fell through its hole",
       l.secondary_missed_W},
      {"secondary mirror", "absorbed by the secondary's reflectance", l.secondary_absorption_W},
      {"spillage", "reached the receiver's plane outside its edge, or never reached it",
       l.spillage_W},
      {"thrown back", "reflected by the receiver's own surface", l.receiver_reflection_W},
      {"on the receiver",
       "absorbed by the receiver; what becomes of it as heat is not counted here",
       l.receiver_absorbed_W, true},
  };
}

std::string watts_text(double watts) {
  const double size = std::fabs(watts);
  if (size >= 9999.5) return fmt::format("{:.2f} kW", watts / 1000.0);
  if (size >= 99.95) return fmt::format("{:.0f} W", watts);
  if (size >= 9.995) return fmt::format("{:.1f} W", watts);
  return fmt::format("{:.2f} W", watts);
}

}  // namespace page
