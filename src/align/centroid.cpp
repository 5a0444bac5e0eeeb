// The quick evaluation of light, on the board of a round.
#include "align/centroid.h"

#include "optics/canting.h"
#include "optics/live.h"

namespace align {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;

constexpr int k_few_cells = 8;  ///< the map itself is not wanted

/// The dish with the round's board in the receiver's place. Canting stays as it was: each facet's
/// nominal normal is written down, so that it does not follow the board.
Result<dish::Dish> on_board(const dish::Dish& dish, const Sighting& sighting,
                            const std::vector<StandingFacet>& facets) {
  dish::Dish lit = dish;
  const auto poses = optics::nominal_poses(dish);
  if (!poses) return poses.problems();
  for (std::size_t i = 0; i < lit.facets.size(); ++i) {
    lit.facets[i].normal = poses.value()[i].normal;
  }
  for (const StandingFacet& facet : facets) {
    lit.facets[facet.facet].displacement_m = facet.displacement_m;
  }
  if (!sighting.secondary_in_place) lit.secondary.reset();
  const base::Pose& board = sighting.dish_from_board;
  const bool is_receiver = glm::distance(board.origin, dish.receiver.centre_m) < 1e-9 &&
                           glm::dot(board.z(), base::unit(dish.receiver.lit_normal)) > 1.0 - 1e-12;
  lit.receiver.centre_m = board.origin;
  lit.receiver.lit_normal = board.z();
  lit.receiver.up = board.y();
  lit.receiver.shades = dish.receiver.shades && is_receiver;
  return lit;
}

bool marks_the_centre_ray(const dish::Source& source) {
  return std::holds_alternative<dish::LaserSource>(source) ||
         std::holds_alternative<dish::AimedLaserSource>(source) ||
         std::holds_alternative<dish::CameraSource>(source);
}

}  // namespace

Result<std::vector<std::optional<Vec2>>> centroid_offsets(
    const dish::Dish& dish, const Sighting& sighting, const std::vector<StandingFacet>& facets) {
  if (marks_the_centre_ray(sighting.source)) {
    return std::vector<std::optional<Vec2>>(facets.size(), Vec2{0.0, 0.0});
  }
  const auto* sun = std::get_if<dish::SunSource>(&sighting.source);
  if (sun == nullptr) {
    return Problem{"round", "spots of a lamp taken as the middle of all light",
                   "spots of the centre ray, or the sun as source"};
  }
  const auto lit = on_board(dish, sighting, facets);
  if (!lit) return lit.problems();
  const auto light = optics::evaluate(
      lit.value(), {.tracking_error_rad = sun->tracking_error_rad, .map_cells = k_few_cells});
  if (!light) return light.problems();
  std::vector<std::optional<Vec2>> offsets;
  offsets.reserve(facets.size());
  for (const StandingFacet& facet : facets) {
    const optics::FacetSpot& spot = light.value().spots[facet.facet];
    if (spot.plane_W > 0.0 && spot.chief_lands) {
      offsets.emplace_back(spot.centroid_m - spot.chief_m);
    } else {
      offsets.emplace_back(std::nullopt);
    }
  }
  return offsets;
}

}  // namespace align
