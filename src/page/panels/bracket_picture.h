// A small picture of a facet and its screws as seen from where the person stands.
#pragma once

#include "dish/facet.h"
#include "dish/mount.h"
#include "session/session.h"

namespace page {

/// Draws it in a square of `size` at the cursor; a click on a screw selects it. From behind, left
/// and right are swapped against the dish's own picture.
void bracket_picture(const session::Session& session, const dish::Facet& facet,
                     const dish::Mount& mount, float size, session::Actions& actions);

}  // namespace page
