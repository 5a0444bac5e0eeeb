// The answer "identify": spots without names, from one photograph or several, to facets with odds.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "naming/film.h"
#include "naming/identify.h"

namespace tasks {

/// One photograph: what was uncovered (empty: every facet) and what was seen.
struct AskedPhoto {
  std::vector<dish::FacetId> uncovered;
  std::vector<naming::BoardSpot> spots;
};

struct IdentifyRequest {
  dish::Round round;  ///< its light and board; its spots are not used
  bool secondary_in_place = true;
  std::vector<AskedPhoto> photos;
  /// Two: names come from when the one photo's spots went out, not from where they lie.
  std::vector<naming::FilmedCrossing> crossings;
  /// Tilt scatter per axis of facets that went through no round yet.
  double start_rad = naming::k_caliper_tilt_rad;
  naming::IdentifySettings settings;  ///< its board area follows from the spots when not `has_area`
  bool has_area = false;
};

struct IdentifyReply {
  naming::IdentifyTarget target;
  std::vector<naming::BoardLook> looks;
  naming::Identification found;
  std::vector<dish::Spot> spots;  ///< of the facets without doubt, as rows for a round
};

/// Priors by the dish's log of rounds (`naming::priors_of`). Problems: those of naming::target_of
/// and naming::identify or identify_by_film, an uncovered facet that the dish does not have, no
/// spots at all, a film of more than one photo.
base::Result<IdentifyReply> run(const dish::Dish& dish, const IdentifyRequest& request,
                                const base::Progress& progress = {});

/// JSON: facets [{facet, photo, right_mm, up_mm, sigma_mm, odds, distance, flux_share, doubt,
/// text}], false_spots [{photo, right_mm, up_mm}], common {shift_mm, radial_mm_per_m, doubt, text},
/// sure, doubtful. right_mm and up_mm are null for a facet without a spot.
std::string json_text(const IdentifyReply& reply);

}  // namespace tasks
