// Simulated practice: looks that show the hidden dish's spots, turns made by imperfect hands.
#pragma once

#include <vector>

#include "session/session.h"

namespace session {

/// True while the hidden dish belongs to the open one (facets were neither added nor removed).
bool practises(const Session& session);

/// Fills the trial's open look with what the hidden dish shows, while one is practised on.
void look_at_trial(Session& session);

/// The hidden dish's screws are turned as told, a little wrong. Called when turns are logged.
void turn_hidden(Session& session, const std::vector<dish::Turned>& turned);

}  // namespace session
