// A photograph of the board with what was found in it: marks, spots with their facets' names,
// and where the missing ones should be. Names can be dragged to other spots.
#pragma once

#include <cstdint>
#include <optional>

#include "page/gl/texture.h"
#include "page/layout.h"
#include "session/session.h"

namespace page {

/// A name on its way from one place of the photo to another.
struct DraggedName {
  dish::FacetId facet;
  std::optional<std::size_t> spot;  ///< where it comes from; nothing: it was missing
};

struct PhotoCanvas {
  gl::Texture picture;
  std::uint64_t number = 0;  ///< of the photo that the picture shows
  double zoom = 1.0;         ///< over the view that fits
  base::Vec2 middle_px{0.0, 0.0};
  bool is_placed = false;
  std::optional<DraggedName> dragged;
  std::optional<std::size_t> pointing;          ///< at this mark the next click points
  std::optional<dish::FacetId> pointing_facet;  ///< at this facet's middle
};

/// Fills `place`. Wheel and drag move the photo; a name dragged to a spot gives it that spot.
void show_photo_canvas(const session::Session& session, PhotoCanvas& canvas, const Rect& place,
                       session::Actions& actions);

/// The graphics context is gone.
void forget(PhotoCanvas& canvas);

}  // namespace page
