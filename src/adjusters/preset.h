// Where every screw is set before a facet ever sees the sun: heights over the bracket's reference
// face that put the facet on its nominal pose, as a caliper reads them.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "adjusters/screws.h"
#include "base/result.h"
#include "dish/dish.h"

namespace adjusters {

struct ScrewPreset {
  std::string label;
  double height_m = 0.0;        ///< nominal: ball plane over the bracket's reference face
  double caliper_m = 0.0;       ///< what the caliper reads there: height + caliper offset
  double displacement_m = 0.0;  ///< as built, from nominal, + to the sun
};

struct FacetPreset {
  dish::FacetId id;
  FacePose nominal;
  std::array<ScrewPreset, 3> screws;
};

/// Nominal heights of one facet on a bracket that is known (exact, see `heights_from_pose`).
/// Accuracy of setting: a caliper error of sd s on screws at radius r gives a slope error of sd
/// s sqrt(2/3) / r per axis, besides the error of the bracket's own lie.
FacetPreset preset_on(const Bracket& bracket, const dish::Facet& facet, const dish::Mount& mount,
                      const FacePose& nominal);

/// The same with the bracket taken from the dish. Problems as in `bracket_of`.
base::Result<FacetPreset> preset_of(const dish::Dish& dish, const dish::Facet& facet,
                                    const FacePose& nominal);

/// All facets, in the dish's order; `nominal` holds one pose for each. All problems in one go.
base::Result<std::vector<FacetPreset>> presets_of(const dish::Dish& dish,
                                                  const std::vector<FacePose>& nominal);

}  // namespace adjusters
