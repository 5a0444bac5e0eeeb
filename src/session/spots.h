// Rounds as a sitting makes them: spots typed, pasted, read or taken from the model's light.
#pragma once

#include <vector>

#include "session/session.h"

namespace session {

/// A new round with these spots, shown at once; light and board as in the round shown now, or the
/// sun as it stands over the receiver's plane when there is none. False when it was refused.
bool add_round(Session& session, std::vector<dish::Spot> spots, const std::string& title);

/// The same from a board inside the focus, under the sun as the session's light has it, the
/// secondary taken off.
bool add_board_round(Session& session, std::vector<dish::Spot> spots, double before_focus_m);

/// The same from a look back: no light, a camera where it stands, a screen for a board.
bool add_look_back_round(Session& session, std::vector<dish::Spot> spots,
                         const base::Vec3& camera_m, const std::optional<dish::Board>& screen);

/// A round that would go on with the light and the board of the one shown; not in the dish yet.
dish::Round following_round(const Session& session);

/// The question where perfect facets' spots lie under the shown round's light, on its board.
tasks::MarksRequest marks_request(const Session& session);

/// A typed spot: edits its round, or makes the first one when the dish has none.
void set_spot(Session& session, const dish::edit::SetSpot& wish);

/// Shows a round of the dish; a number beyond them shows the last. What its spots are taken to be
/// (the middle of a facet's light, or its centre ray) starts as usual for the round's light.
void show_round(Session& session, std::size_t round);

}  // namespace session
