// The facet as the person sees it, with its three screws and which way each is to be turned.
#pragma once

#include <array>

#include "page/layout.h"
#include "session/on_site.h"

namespace page {

/// Draws into a square in the middle of `place`. Mirrored for someone behind the dish.
void draw_screws_picture(const session::Session& session, const dish::Facet& facet,
                         const std::array<session::ToldScrew, 3>& screws, const Rect& place);

}  // namespace page
