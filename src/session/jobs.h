// The full trace in workers: asked for in parts, merged in order, called off when the light has
// changed.
#pragma once

#include <cstdint>
#include <string>

#include "session/session.h"

namespace session {

/// Asks for the full trace of the present light; one that runs is called off first. Does nothing
/// while the live light has problems.
void start_full_trace(Session& session);

/// Calls a running trace off; one that is done stays.
void cancel_full_trace(Session& session);

/// After every change: calls the trace off when the light changed, else carries it along to the
/// present revision, because it shows the same light.
void follow_light(Session& session, bool light_changed);

/// True when nothing is to be gained by another trace: one of the present light runs, is done, has
/// failed or was cancelled by hand.
bool full_trace_is_settled(const Session& session);

}  // namespace session
