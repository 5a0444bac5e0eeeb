// The look back: facets pointed at in photos of the dish, a screen's fringes read in all facets by
// a worker, and their places of the screen taken as a round.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// A facet where it is in the photos.
struct FacetInPhoto {
  dish::FacetId facet;
  base::Vec2 image_px{0.0, 0.0};
  double radius_px = 0.0;
  bool was_read = false;  ///< its place of the screen is known
  std::string sentence;   ///< what was read, or why not; empty before reading
};

/// All facets as soon as enough were pointed at.
std::vector<FacetInPhoto> facets_in_photo(const Session& session);

/// The facet that is best pointed at next; nothing when all were.
std::optional<dish::FacetId> next_facet_to_point(const Session& session);

/// Which picture of the screen a photo is taken for, or that it is one too many.
std::string standing_of_fringes(const Session& session, std::size_t photo);

/// How the set as a whole stands: what is missing before it can be read, or what was read.
std::string standing_of_look_back(const Session& session);

bool can_read_look_back(const Session& session);
bool can_take_look_back(const Session& session);

void read_look_back(Session& session);
void take_look_back(Session& session);

/// Finds all facets' places anew; a reading made at other places is dropped.
void place_facets(Session& session);

}  // namespace session
