// The target card: the target plane face on, as someone sees it who faces its lit side.
#pragma once

#include <cstdint>
#include <optional>

#include "page/gl/texture.h"
#include "page/layout.h"
#include "page/target_card/plate.h"
#include "page/widgets/light.h"
#include "session/session.h"

namespace target_card {

/// What the picture of the map was made from.
struct Made {
  std::uint64_t revision = 0;
  bool full = false;
  widgets::MapLook look = widgets::MapLook::light;
  double full_W_m2 = 0.0;
};

struct Card {
  bool shows_board = false;  ///< the shown round's own board instead of the receiver's plane
  widgets::MapLook look = widgets::MapLook::light;
  PlateView view;
  bool pressed_moved = false;
  gl::Texture picture;
  std::optional<Made> made;
};

/// Fills the region: plate, exposure or scale, and the figures below. Needs the graphics context.
void show_card(const session::Session& session, Card& card, const page::Rect& place,
               session::Actions& actions);

/// The graphics context is gone.
void forget(Card& card);

}  // namespace target_card
