// One adjuster as a dial: a screw head whose slot stands where the turns put it, a clock-face
// scale of clicks, and the told correction as an arc with an arrow.
#pragma once

#include <optional>

#include "session/actions.h"

struct ImVec2;

namespace page {

/// What a dial shows. Turns are clockwise as seen from the side the screw is turned from.
struct DialView {
  const char* label = "";            ///< as read on the hardware
  double turns_now = 0.0;            ///< from nominal
  std::optional<double> turns_told;  ///< the correction to make, when there is one
  int clicks_per_turn = 12;
  bool selected = false;
  bool possible = true;  ///< false: nothing to turn (no facet, no mount)
};

/// The drag under way on one dial.
struct DialMemory {
  bool active = false;
  double last_angle_rad = 0.0;
  double turns = 0.0;
};

struct DialOutcome {
  std::optional<double> turns;  ///< new turns from nominal, while it is dragged or clicked on
  bool began = false;
  bool ended = false;
  bool cancelled = false;
};

/// Draws the dial in a square of `size` with its top left corner at the cursor. Dragging round the
/// middle turns it, the wheel turns it by one click, Esc takes a drag back.
DialOutcome dial(const char* id, const DialView& view, float size, DialMemory& memory);

}  // namespace page
