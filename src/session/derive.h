// Brings what was derived from the document up to the present revision.
#pragma once

#include "session/session.h"

namespace session {

/// Makes live light, presets, stances, plan and findings fresh, each only when something it
/// depends on has changed; where only a facet's stance changed, only that facet's share is made
/// anew. What cannot be made has no value and says why. A full trace that no longer shows the
/// present light is called off.
/// Law: afterwards every derived result is what a session fresh from the same dish and settings
/// would hold (the light to rounding).
void derive(Session& session);

/// The log of rounds as a story, when it is shown and the present dish has none yet. Called at
/// rest: it lights the dish several times.
void derive_story(Session& session);

/// Where each facet's spot should lie in the shown round, when its stage is shown. Called at rest.
void derive_marks(Session& session);

/// Where each facet's spot should lie in the shown round, when its stage is shown. Called at rest.
void derive_expected(Session& session);

/// What stands in the light, when it is shown and the present light has none yet. Called at rest:
/// it takes some tens of milliseconds.
void derive_shadows(Session& session);

}  // namespace session
