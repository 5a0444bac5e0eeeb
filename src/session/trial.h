// The trial of two facets' screws before any real turn: it lives in the log (see align/nudge).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// The trial that the shown round belongs to; nothing when it is none of its rounds.
std::optional<align::Nudge> shown_trial(const Session& session);

/// What the trial says now, in one sentence.
std::string trial_step(const Session& session);

/// Whether the next screw can be turned: the shown round is its last look, and all spots are in.
bool can_turn_trial(const Session& session);

}  // namespace session
