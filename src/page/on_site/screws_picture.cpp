// An outline, three screw heads, and round each an arrow over as much of a circle as it turns.
#include "page/on_site/screws_picture.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <vector>

#include "base/units.h"
#include "dish/outline_facts.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/widgets/words.h"
#include "session/figures.h"

namespace page {
namespace {

constexpr float k_screw_radius = 30.0F;
constexpr float k_turn_radius = 46.0F;
constexpr float k_longest_arc = 5.4F;  ///< rad: a whole circle would hide where it ends
constexpr float k_shortest_arc = 0.9F;

struct View {
  ImVec2 middle;
  float scale = 1.0F;
  bool is_from_behind = true;

  [[nodiscard]] ImVec2 operator()(const base::Vec2& at) const {
    const auto x = static_cast<float>(is_from_behind ? -at.x : at.x);
    return {middle.x + x * scale, middle.y - static_cast<float>(at.y) * scale};
  }
};

void draw_outline(ImDrawList& draw, const dish::Outline& outline, const View& at) {
  const look::Theme& t = look::theme();
  std::vector<ImVec2> points;
  for (const base::Vec2& corner : dish::outline_corners(outline)) points.push_back(at(corner));
  draw.AddPolyline(points.data(), static_cast<int>(points.size()), t.ink_soft, ImDrawFlags_Closed,
                   2.5F);
}

/// An arc from the top, the way the screw is to be turned, with a head.
void draw_turn(ImDrawList& draw, ImVec2 middle, int clicks, ImU32 colour) {
  const float way = clicks > 0 ? 1.0F : -1.0F;
  const float share = static_cast<float>(std::abs(clicks)) / 12.0F;
  const float length =
      std::clamp(share * 2.0F * static_cast<float>(base::k_pi), k_shortest_arc, k_longest_arc);
  const auto on_circle = [&](float angle, float radius) {
    return ImVec2(middle.x + radius * std::sin(angle), middle.y - radius * std::cos(angle));
  };
  const float first = -way * 0.5F * length;
  for (int k = 0; k <= 40; ++k) {
    draw.PathLineTo(on_circle(first + way * length * static_cast<float>(k) / 40.0F, k_turn_radius));
  }
  draw.PathStroke(colour, ImDrawFlags_None, 7.0F);
  const float end = -first;
  draw.AddTriangleFilled(on_circle(end + way * 0.40F, k_turn_radius),
                         on_circle(end, k_turn_radius + 15.0F),
                         on_circle(end, k_turn_radius - 15.0F), colour);
}

void draw_screw(ImDrawList& draw, ImVec2 at, const session::ToldScrew& screw) {
  const look::Theme& t = look::theme();
  const bool turns = screw.clicks != 0;
  if (turns) draw_turn(draw, at, screw.clicks, t.copper);
  draw.AddCircleFilled(at, k_screw_radius, turns ? t.copper_soft : t.field, 48);
  draw.AddCircle(at, k_screw_radius, turns ? t.copper : t.ink_faint, 48, 3.0F);
  widgets::text_centred_at(draw, {at.x, at.y - 0.5F * look::k_large_px}, turns ? t.ink : t.ink_soft,
                           screw.label, look::FontSize::large);
}

}  // namespace

void draw_screws_picture(const session::Session& session, const dish::Facet& facet,
                         const std::array<session::ToldScrew, 3>& screws, const Rect& place) {
  const dish::FacetType* type = dish::find_facet_type(session.document.dish, facet.type);
  double reach = type == nullptr ? 0.0 : dish::bounding_radius(type->outline);
  for (const session::ToldScrew& screw : screws)
    reach = std::max(reach, glm::length(screw.place_m));
  const bool is_from_behind = session::side_of(session) == dish::Side::back;
  const float half = 0.5F * std::min(place.width, place.height - 2.0F * look::k_large_px);
  const View at{{place.x + 0.5F * place.width, place.y + half},
                (half - k_turn_radius * 0.4F) / static_cast<float>(std::max(reach, 1e-3)),
                is_from_behind};
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  if (type != nullptr) draw_outline(draw, type->outline, at);
  for (const session::ToldScrew& screw : screws) draw_screw(draw, at(screw.place_m), screw);
  widgets::text_centred_at(draw, {at.middle.x, place.y + 2.0F * half + 6.0F},
                           look::theme().ink_soft,
                           is_from_behind ? "as seen from behind" : "as seen from in front");
}

}  // namespace page
