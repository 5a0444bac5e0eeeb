// Turns that a round asks for, and their log once they are made. A plan asks for them from what was
// seen; a round without observations may have them written down beforehand (see session/spread).
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// What one screw of a facet is to be turned by.
struct ToldTurn {
  std::string label;
  int clicks = 0;  ///< clockwise + from the side it is turned from
  int clicks_per_turn = 12;
  dish::Side seen_from = dish::Side::back;
  std::string finish;    ///< how the move should end; empty: no matter
  double after_m = 0.0;  ///< displacement from nominal when it is made
};

/// True for a round whose turns were written down beforehand.
bool is_prescribed(const dish::Round& round);

/// In the mount's order; nothing for a facet that the shown round tells nothing about.
std::optional<std::array<ToldTurn, 3>> told_turns(const Session& session,
                                                  const dish::FacetId& facet);

/// True once the shown round logs turns of the facet.
bool is_turned(const Session& session, const dish::FacetId& facet);

/// "1 turn and 4 clicks clockwise, seen from the back", for someone who stands on that side.
std::string words_of(const ToldTurn& turn, dish::Side side);

/// Facets whose turns the shown round asks for and nobody has made yet, in the dish's order.
std::vector<dish::FacetId> open_turns(const Session& session);
bool turns_are_open(const Session& session);

/// Logs the told turns of one facet as made. False, with a notice, when there are none.
bool log_told_turns(Session& session, const dish::FacetId& facet);

}  // namespace session
