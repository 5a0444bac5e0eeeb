// Nominal heights, facet by facet.
#include "adjusters/preset.h"

#include "base/check.h"

namespace adjusters {

FacetPreset preset_on(const Bracket& bracket, const dish::Facet& facet, const dish::Mount& mount,
                      const FacePose& nominal) {
  CHECK(mount.adjusters.size() == 3, "a bracket is only made of three adjusters");
  const Heights heights = heights_from_pose(bracket, nominal);
  FacetPreset preset{.id = facet.id, .nominal = nominal};
  for (std::size_t k = 0; k < 3; ++k) {
    preset.screws[k] = {.label = mount.adjusters[k].label,
                        .height_m = heights[k],
                        .caliper_m = heights[k] + mount.caliper_offset_m,
                        .displacement_m = facet.displacement_m[k]};
  }
  return preset;
}

base::Result<FacetPreset> preset_of(const dish::Dish& dish, const dish::Facet& facet,
                                    const FacePose& nominal) {
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  const auto bracket = bracket_of(facet, mount, nominal);
  if (!bracket) return bracket.problems();
  return preset_on(bracket.value(), facet, *mount, nominal);
}

base::Result<std::vector<FacetPreset>> presets_of(const dish::Dish& dish,
                                                  const std::vector<FacePose>& nominal) {
  CHECK(nominal.size() == dish.facets.size(), "there is one nominal pose for each facet");
  std::vector<FacetPreset> presets;
  presets.reserve(nominal.size());
  base::Problems problems;
  for (std::size_t i = 0; i < nominal.size(); ++i) {
    const auto preset = preset_of(dish, dish.facets[i], nominal[i]);
    if (preset) {
      presets.push_back(preset.value());
    } else {
      problems.insert(problems.end(), preset.problems().begin(), preset.problems().end());
    }
  }
  if (!problems.empty()) return problems;
  return presets;
}

}  // namespace adjusters
