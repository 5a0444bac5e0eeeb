// Every facet's spot on the plate: outline, name, and which lies under the pointer.
#pragma once

#include <imgui.h>

#include <optional>
#include <vector>

#include "optics/live.h"
#include "page/target_card/plate.h"
#include "session/session.h"

namespace target_card {

/// Corners of the ellipse that holds a spot to `sigmas` standard deviations, on the screen.
std::vector<ImVec2> spot_outline(const Plate& plate, const optics::FacetSpot& spot, double sigmas);

/// Outlines of all spots with names where there is room; the hovered and the selected stand out.
void draw_spots(ImDrawList& draw, const Plate& plate, const session::Session& session, double zoom);

/// The facet whose spot lies under the pointer: within its outline, or near its middle; the nearest
/// middle wins.
std::optional<dish::FacetId> spot_under(const Plate& plate, const session::Session& session,
                                        const ImVec2& pointer);

}  // namespace target_card
