// The answer "preset": where every adjuster is set before a facet ever sees the sun.
#pragma once

#include <string>
#include <vector>

#include "adjusters/preset.h"
#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"

namespace tasks {

/// Nothing to choose: the dish says it all.
struct PresetRequest {};

struct PresetReply {
  std::vector<adjusters::FacetPreset> facets;  ///< in the dish's order
};

/// Problems: facets that cannot be canted, mounts that cannot hold them; each names its facet.
base::Result<PresetReply> run(const dish::Dish& dish, const PresetRequest& request,
                              const base::Progress& progress = {});

/// facets [{id, normal, centre_mm, screws [{label, height_mm, caliper_mm, displacement_mm}]}].
std::string json_text(const PresetReply& reply);

/// One line for each facet, with what the caliper reads at each screw.
std::string report_text(const PresetReply& reply);

/// One row for each screw: facet,screw,height_mm,caliper_mm,displacement_mm.
std::string csv_text(const PresetReply& reply);

}  // namespace tasks
