// Rings of the size of what is surely mirror, so that it shows at a glance whether they lie right.
#include "page/photos/facet_rings.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "page/look/theme.h"
#include "page/platform/item_table.h"
#include "page/widgets/words.h"
#include "session/look_back.h"

namespace page {
namespace {

constexpr float k_turn = 6.2831853F;
constexpr float k_name_from_px = 14.0F;

void draw_ring(ImDrawList& draw, const ImVec2& at, float radius, ImU32 colour, bool whole) {
  const int dashes = whole ? 1 : 6;
  for (int k = 0; k < dashes; ++k) {
    const float from = static_cast<float>(k) * k_turn / static_cast<float>(dashes);
    draw.PathArcTo(at, radius, from, from + (whole ? k_turn : 0.62F), 24);
    draw.PathStroke(colour, 0, 1.5F);
  }
}

void show_facet_ring(ImDrawList& draw, const session::FacetInPhoto& facet, const PhotoView& view,
                     bool was_read, bool is_selected) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const ImVec2 at = view.on_screen(facet.image_px);
  const float radius = std::max(3.0F, static_cast<float>(facet.radius_px * view.scale));
  const bool failed = was_read && !facet.was_read;
  const ImU32 colour = is_selected ? lamp.copper
                       : failed    ? lamp.doubt
                       : was_read  ? lamp.ok
                                   : lamp.cool;
  draw_ring(draw, at, radius, colour, !failed);
  if (radius >= k_name_from_px || failed || is_selected) {
    // Where there is room, below the middle, which a cross may mark.
    const float top = radius > 26.0F ? at.y + 10.0F : at.y - 9.0F;
    widgets::label_at(draw, {at.x - 8.0F, top}, colour, facet.facet.text + (failed ? " ?" : ""));
  }
  const std::string name = "facet " + facet.facet.text + " in the photo";
  platform::note_item(name.c_str(), at.x - 4.0F, at.y - 4.0F, 8.0F, 8.0F);
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  if (!ImGui::IsItemHovered() || std::hypot(mouse.x - at.x, mouse.y - at.y) > radius) return;
  widgets::hint_for_last(
      (facet.sentence.empty() ? "Facet " + facet.facet.text : facet.sentence).c_str());
}

}  // namespace

void show_facet_rings(const session::Session& session, const PhotoView& view) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const bool was_read = session.studies.look_back.reply.has_value();
  const auto facets = session::facets_in_photo(session);
  for (const session::FacetInPhoto& facet : facets) {
    if (facet.radius_px <= 0.0) continue;
    show_facet_ring(draw, facet, view, was_read, facet.facet == session.selection.selected);
  }
  for (const tasks::PointedFacet& pointed : session.photo_work.look_back.pointed) {
    const ImVec2 at = view.on_screen(pointed.image_px);
    draw.AddLine({at.x - 9.0F, at.y}, {at.x + 9.0F, at.y}, lamp.copper, 1.5F);
    draw.AddLine({at.x, at.y - 9.0F}, {at.x, at.y + 9.0F}, lamp.copper, 1.5F);
    if (facets.empty()) {
      widgets::label_at(draw, {at.x + 6.0F, at.y + 4.0F}, lamp.copper, pointed.facet.text);
    }
  }
}

}  // namespace page
