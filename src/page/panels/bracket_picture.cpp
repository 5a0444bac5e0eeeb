// The facet's outline with its screws, mirrored when the person stands behind.
#include "page/panels/bracket_picture.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "dish/dish.h"
#include "dish/outline_facts.h"
#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"

namespace page {
namespace {

/// From the facet's (u, v) to the picture: scaled about the middle, v up, u mirrored from behind.
struct Projection {
  ImVec2 middle;
  float scale = 1.0F;
  bool from_behind = true;

  [[nodiscard]] ImVec2 operator()(double u, double v) const {
    const auto x = static_cast<float>(from_behind ? -u : u);
    return {middle.x + x * scale, middle.y - static_cast<float>(v) * scale};
  }
};

std::vector<ImVec2> projected(const dish::Corners& corners, const Projection& at) {
  std::vector<ImVec2> points;
  points.reserve(corners.size());
  for (const base::Vec2& corner : corners) points.push_back(at(corner.x, corner.y));
  return points;
}

void draw_outline(ImDrawList& draw, const dish::Outline& outline, const Projection& at) {
  const look::Theme& t = look::theme();
  for (const dish::Corners& piece : dish::convex_pieces(outline, 48)) {
    const std::vector<ImVec2> points = projected(piece, at);
    draw.AddConvexPolyFilled(points.data(), static_cast<int>(points.size()),
                             look::faded(t.cool, 0.10F));
  }
  const std::vector<ImVec2> edge = projected(dish::outline_corners(outline, 48), at);
  draw.AddPolyline(edge.data(), static_cast<int>(edge.size()), t.ink_soft, ImDrawFlags_Closed,
                   1.2F);
}

void draw_screw(ImDrawList& draw, ImVec2 at, const dish::Adjuster& adjuster, bool selected) {
  const look::Theme& t = look::theme();
  draw.AddCircleFilled(at, 9.0F, selected ? t.copper : t.field, 24);
  draw.AddCircle(at, 9.0F, selected ? t.copper : t.ink_soft, 24);
  const ImVec2 size = ImGui::CalcTextSize(adjuster.label.c_str());
  draw.AddText({at.x - size.x * 0.5F, at.y - size.y * 0.5F}, selected ? t.on_copper : t.ink,
               adjuster.label.c_str());
}

}  // namespace

void bracket_picture(const session::Session& session, const dish::Facet& facet,
                     const dish::Mount& mount, float size, session::Actions& actions) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const dish::FacetType* type = dish::find_facet_type(session.document.dish, facet.type);
  const dish::Side side = session.preferences.side.value_or(dish::Side::back);
  const double reach = type == nullptr ? 0.12 : dish::bounding_radius(type->outline);
  const Projection at{{corner.x + size * 0.5F, corner.y + (size - 14.0F) * 0.5F},
                      static_cast<float>((size - 14.0F) * 0.5 / std::max(reach, 1e-3)),
                      side == dish::Side::back};
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  if (type != nullptr) draw_outline(draw, type->outline, at);
  ImGui::PushID("bracket");
  const look::Font small(look::FontSize::small);
  for (std::size_t k = 0; k < mount.adjusters.size(); ++k) {
    const dish::Adjuster& adjuster = mount.adjusters[k];
    const ImVec2 place = at(adjuster.x_m, adjuster.y_m);
    draw_screw(draw, place, adjuster, session.selection.screw == static_cast<int>(k));
    ImGui::SetCursorScreenPos({place.x - 10.0F, place.y - 10.0F});
    if (ImGui::InvisibleButton(adjuster.label.c_str(), ImVec2(20.0F, 20.0F))) {
      actions.push_back(session::act::Select{facet.id, static_cast<int>(k)});
    }
    hint_for_last(("Screw " + adjuster.label).c_str());
  }
  const char* caption = side == dish::Side::back ? "from behind" : "from in front";
  const float width = ImGui::CalcTextSize(caption).x;
  draw.AddText({corner.x + (size - width) * 0.5F, corner.y + size - 13.0F}, look::theme().ink_soft,
               caption);
  ImGui::PopID();
  ImGui::SetCursorScreenPos(corner);
  ImGui::Dummy(ImVec2(size, size));
}

}  // namespace page
