// The eight pictures of a look back as one page for the screen.
#pragma once

#include <string>

#include "photo/fringes.h"

namespace photo {

/// An HTML page that needs no network: it fills the screen, shows the pictures of fringes.h one
/// after the other at a key or a tap, and tells which one only in the window's title, so that
/// nothing but the fringes is on the screen. Light is turned into codes by the sRGB curve (IEC
/// 61966-2-1), so that the screen's light is the wave. `screen` must be without problems.
std::string fringe_sheet(const Screen& screen);

}  // namespace photo
