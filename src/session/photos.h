// Photographs of the target board: brought, read in a worker, each spot given to its facet, and
// taken as a round.
#pragma once

#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// A spot with the facet it is taken for.
struct NamedSpot {
  std::size_t photo = 0;  ///< index into the work's photos
  photo::Spot spot;
  base::Vec2 image_px{0.0, 0.0};       ///< where it lies in the photo
  std::optional<dish::FacetId> facet;  ///< nothing: nobody's
  bool is_by_hand = false;             ///< the person said so
  naming::Doubt doubt = naming::Doubt::none;
  double odds = 0.0;
  std::string sentence;  ///< about the doubt
};

/// All spots of one photo, in the order of the reply.
std::vector<NamedSpot> spots_of_photo(const Session& session, std::size_t photo);

/// Facets that should be in a photo and have no spot there, with where it is expected.
struct MissingSpot {
  dish::FacetId facet;
  base::Vec2 image_px{0.0, 0.0};
};
std::vector<MissingSpot> missing_in_photo(const Session& session, std::size_t photo);

/// A place on the board in a photo that has been read; nothing where it has not.
std::optional<base::Vec2> in_photo(const Session& session, std::size_t photo,
                                   const base::Vec2& board_m);

/// Which facets are uncovered in a photo: all, or its group of them.
std::vector<std::size_t> uncovered_in(const Session& session, std::size_t photo);

/// How a photo's reading went, in a few words; what must be done before it can be read.
std::string standing_of_photo(const Session& session, std::size_t photo);

/// True when there is something to take as a round.
bool can_take_photos(const Session& session);

/// Brings what was found up to date with a dish that has changed.
void photos_follow_dish(Session& session);

/// After the reply: gives the spots to facets (see naming/identify). Also after the board, the
/// groups, the prior or the dish have changed.
void identify_spots(Session& session);

}  // namespace session
