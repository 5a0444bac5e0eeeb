// What the shown round saw, and where it should have been: marks on the target plane, or on the
// round's own board.
#pragma once

#include <imgui.h>

#include <optional>

#include "page/target_card/plate.h"
#include "session/session.h"

namespace target_card {

/// True when the stage's round was seen on a board of its own.
bool has_own_board(const session::Session& session);

/// A side that holds all marks of the shown round, m.
double board_side_m(const session::Session& session);

/// Seen spots as diamonds, expected ones as crosses, a line between the two; the selected facet's
/// with the ring within which a spot is better left alone.
void draw_round_marks(ImDrawList& draw, const Plate& plate, const session::Session& session);

/// What the marks mean, along the plate's foot; nothing when there are none.
void draw_marks_key(ImDrawList& draw, const Plate& plate, const session::Session& session,
                    bool on_board);

/// The facet whose mark lies nearest to the pointer, within reach.
std::optional<dish::FacetId> mark_under(const Plate& plate, const session::Session& session,
                                        const ImVec2& pointer);

/// How the board is looked at, below the plate.
void show_board_words(const page::Rect& place);

}  // namespace target_card
