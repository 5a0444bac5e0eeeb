// The yard: the dish in three dimensions, seen from where a person would stand.
#pragma once

#include <cstdint>
#include <optional>

#include "page/layout.h"
#include "page/yard/camera.h"
#include "page/yard/canvas.h"
#include "page/yard/drawing.h"
#include "page/yard/model.h"
#include "page/yard/named_views.h"
#include "page/yard/tint.h"
#include "session/session.h"

namespace yard {

/// A way from one camera to another, walked in a fraction of a second.
struct Glide {
  Camera from;
  Camera to;
  double share = 1.0;  ///< 1: arrived
};

/// What the picture was drawn from; it is drawn again when any of it changes.
struct Drawn {
  std::uint64_t revision = 0;
  std::uint64_t live_revision = 0;
  base::Vec2 tracking_error_rad{0.0, 0.0};
  std::optional<dish::FacetId> hovered;
  std::optional<dish::FacetId> selected;
  int screw = -1;
  session::Tint tint = session::Tint::plain;
  int picture_rays = 1;
  bool shadows_known = false;
  session::ThemeChoice theme = session::ThemeChoice::lamp;
  double exposure_stops = 0.0;
  Camera camera;
  float pixel_ratio = 0.0f;
};

/// The yard's own memory: where the eye is, and what is on the graphics card.
struct Yard {
  Model model;
  Camera camera;
  Glide glide;
  std::optional<NamedView> view = NamedView::three_quarter;  ///< absent once a hand moved the eye
  Picture picture;                                           ///< CSS pixels
  bool placed = false;                                       ///< the eye has had its first place
  bool pressed_moved = false;                                ///< this press became a drag
  TintScale tint;

  Drawing drawing;
  Canvas canvas;
  bool tiles_stale = true;
  std::optional<Drawn> drawn;
};

/// The yard's part of the interface: the picture, pointer and keys over it, labels and legend.
void show_yard(const session::Session& session, Yard& yard, const page::Rect& place,
               session::Actions& actions);

/// Draws the picture when something in it has changed. Between frames of interface, with the
/// context.
void draw_yard(const session::Session& session, Yard& yard);

/// Goes to a named view.
void look_from(Yard& yard, NamedView view);

/// Turns the eye by a step of the keyboard: right and up in steps.
void step_eye(Yard& yard, double right, double up);
void step_nearer(Yard& yard, double steps);

/// The graphics context is gone.
void forget(Yard& yard);

}  // namespace yard
