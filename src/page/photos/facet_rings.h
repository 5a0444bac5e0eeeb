// The facets of the dish where they are in a photo of it, for a look back.
#pragma once

#include "page/photos/photo_view.h"
#include "session/session.h"

namespace page {

/// Crosses where the person pointed; a ring for each facet once they tell where all are: whole with
/// a tick's colour when it was read, dashed and with a question mark when it could not be.
void show_facet_rings(const session::Session& session, const PhotoView& view);

}  // namespace page
