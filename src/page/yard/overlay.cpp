// Words are placed by projecting what they name.
#include "page/yard/overlay.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "page/look/theme.h"
#include "page/platform/item_table.h"
#include "page/widgets/numbers.h"
#include "page/widgets/words.h"
#include "page/yard/palette.h"

namespace yard {
namespace {

constexpr float k_edge = 14.0f;
constexpr std::size_t k_most_noted = 400;

ImVec2 on_screen(const Projected& point, const page::Rect& place) {
  return {place.x + static_cast<float>(point.place.x), place.y + static_cast<float>(point.place.y)};
}

Projected see(const Yard& yard, const base::Vec3& world) {
  return project(yard.camera, yard.picture, world);
}

void show_views(Yard& yard, const page::Rect& place) {
  ImGui::SetCursorScreenPos({place.x + k_edge - 4.0f, place.y + 8.0f});
  for (const ViewChoice& choice : view_choices()) {
    if (widgets::word(choice.label, yard.view == choice.view, choice.hint)) {
      look_from(yard, choice.view);
    }
    ImGui::SameLine(0.0f, 8.0f);
  }
  ImGui::NewLine();
}

// Left and right are the first thing to get wrong behind a dish, so the picture says it.
const char* sidedness(const Yard& yard, bool brief) {
  const base::Vec3 toward_eye = eye_of(yard.camera).back;
  const double facing = glm::dot(toward_eye, yard.model.ground.world_from_dish.z());
  if (facing > 0.25) return brief ? "front, +x right" : "seen from the front: +x to the right";
  if (facing < -0.25) return brief ? "behind, +x left" : "seen from behind: +x to the left";
  return brief ? "side" : "seen from the side";
}

struct TintChoice {
  session::Tint tint;
  const char* label;
  const char* hint;
};

const std::array<TintChoice, 7>& tint_choices() {
  static const std::array<TintChoice, 7> choices{{
      {session::Tint::plain, "Mirror", "Facets as mirrors of the sky."},
      {session::Tint::kind, "Kind", "Coloured by kind of facet."},
      {session::Tint::power, "Watts", "Coloured by what each brings onto the receiver."},
      {session::Tint::spread, "Spread", "Coloured by how wide each one's light falls."},
      {session::Tint::shadow, "Shadow", "Where the glass lies in shadow, painted on it."},
      {session::Tint::tilt, "Tilt", "Coloured by how far each is tilted from its nominal stance."},
      {session::Tint::travel, "Travel", "Coloured by how much of its screws' travel is used."},
  }};
  return choices;
}

void show_tints(const session::Session& session, const page::Rect& place,
                session::Actions& actions) {
  ImGui::SetCursorScreenPos({place.x + k_edge - 4.0f, place.bottom() - 34.0f});
  for (const TintChoice& choice : tint_choices()) {
    if (widgets::word(choice.label, session.preferences.tint == choice.tint, choice.hint)) {
      actions.push_back(session::act::SetTint{choice.tint});
    }
    ImGui::SameLine(0.0f, 6.0f);
  }
  ImGui::NewLine();
}

// How many rays of each facet are drawn, on the same line as the views, at the right.
void show_ray_choice(const session::Session& session, const page::Rect& place,
                     session::Actions& actions) {
  if (place.width < 560.0f) return;
  ImGui::SetCursorScreenPos({place.right() - 172.0f, place.y + 8.0f});
  ImGui::AlignTextToFramePadding();
  for (const int rays : session::k_picture_rays) {
    const std::string label = rays == 0 ? "no rays" : fmt::format("{}##rays", rays);
    const std::string hint = rays == 0 ? "Draw no rays but the chosen facet's."
                                       : fmt::format("Draw {} of each facet's rays (I).", rays);
    if (widgets::word(label.c_str(), session.preferences.picture_rays == rays, hint.c_str())) {
      actions.push_back(session::act::SetPictureRays{rays});
    }
    ImGui::SameLine(0.0f, 4.0f);
  }
  ImGui::NewLine();
}

void show_kinds(ImDrawList& draw, const TintScale& scale, ImVec2 corner) {
  const look::Theme& theme = look::theme();
  for (std::size_t kind = 0; kind < std::min<std::size_t>(scale.kinds.size(), 6); ++kind) {
    const glm::vec3 colour = tint_colour(scale, static_cast<double>(kind));
    draw.AddRectFilled({corner.x, corner.y + 4.0f}, {corner.x + 10.0f, corner.y + 14.0f},
                       ImGui::ColorConvertFloat4ToU32({colour.x, colour.y, colour.z, 1.0f}));
    const ImVec2 size =
        widgets::text_at(draw, {corner.x + 16.0f, corner.y}, theme.ink_soft, scale.kinds[kind]);
    corner.x += size.x + 34.0f;
  }
}

void show_scale(ImDrawList& draw, const TintScale& scale, const ImVec2& corner) {
  const look::Theme& theme = look::theme();
  constexpr float k_width = 190.0f;
  widgets::text_at(draw, corner, theme.ink_soft, scale.title, look::FontSize::small);
  const float top = corner.y + 18.0f;
  widgets::ramp_bar(draw, {corner.x, top}, {corner.x + k_width, top + 7.0f}, k_tint_from);
  for (int tick = 0; tick <= 2; ++tick) {
    const float x = corner.x + 0.5f * k_width * static_cast<float>(tick);
    const double value = scale.least + 0.5 * tick * (scale.most - scale.least);
    draw.AddLine({x, top + 7.0f}, {x, top + 11.0f}, theme.ink_soft);
    const std::string text = widgets::plain(value) + (tick == 2 ? " " + scale.unit : "");
    if (tick == 0)
      widgets::text_at(draw, {x, top + 11.0f}, theme.ink_soft, text, look::FontSize::small);
    if (tick == 1)
      widgets::text_centred_at(draw, {x, top + 11.0f}, theme.ink_soft, text, look::FontSize::small);
    if (tick == 2)
      widgets::text_at(draw, {x - 12.0f, top + 11.0f}, theme.ink_soft, text, look::FontSize::small);
  }
}

void show_legend(const Yard& yard, const page::Rect& place) {
  const TintScale& scale = yard.tint;
  if (scale.title.empty()) return;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const float lift = scale.kinds.empty() ? 86.0f : 56.0f;
  const ImVec2 corner{place.x + k_edge, place.bottom() - lift};
  if (!scale.kinds.empty()) {
    show_kinds(draw, scale, corner);
  } else if (scale.values.empty() && !scale.is_painted) {
    widgets::text_at(draw, {corner.x, corner.y + 30.0f}, look::theme().ink_soft,
                     scale.title + ": nothing to show");
  } else {
    show_scale(draw, scale, corner);
  }
}

// The chosen facet's name and what it brings, beside it.
void label_facet(ImDrawList& draw, const session::Session& session, const Yard& yard,
                 const page::Rect& place, const dish::FacetId& facet) {
  const std::size_t index = index_of(yard.model, facet);
  if (index == dish::k_no_facet) return;
  const optics::SceneFacet& tile = yard.model.scene->facets[index];
  const double radius = yard.model.scene->edges[tile.edge].bounding_radius_m;
  const base::Vec3 centre =
      base::point_to_outer(yard.model.ground.world_from_dish, tile.dish_from_facet.origin);
  const Projected beside = see(yard, centre + radius * eye_of(yard.camera).right);
  if (beside.depth_m <= 0.0) return;
  std::string text = facet.text;
  if (session.live.value.has_value() && index < session.live.value->spots.size()) {
    text += "  " + widgets::watts(session.live.value->spots[index].receiver_W);
  }
  const TintScale& scale = yard.tint;
  const bool says_more = scale.kinds.empty() && scale.unit != "W" && index < scale.values.size();
  if (says_more && std::isfinite(scale.values[index])) {
    text += "  " + widgets::figures(scale.values[index], 3) + " " + scale.unit;
  }
  const ImVec2 corner = on_screen(beside, place);
  // A selected facet's screws carry labels round it: the name keeps clear of them.
  const float clear = session.selection.selected == facet ? 26.0f : 8.0f;
  widgets::label_at(draw, {corner.x + clear, corner.y - 9.0f}, look::theme().ink, text);
}

base::Vec2 outward_on_screen(const base::Vec2& from_middle) {
  const double length = glm::length(from_middle);
  return length > 1.0 ? from_middle / length : base::Vec2(0.0, -1.0);
}

void label_screws(ImDrawList& draw, const session::Session& session, const Yard& yard,
                  const page::Rect& place) {
  if (!session.selection.selected.has_value()) return;
  const base::Vec3 eye = eye_of(yard.camera).place;
  const std::size_t index = index_of(yard.model, session.selection.selected);
  if (index == dish::k_no_facet) return;
  const Projected middle =
      see(yard, base::point_to_outer(yard.model.ground.world_from_dish,
                                     yard.model.scene->facets[index].dish_from_facet.origin));
  for (const ScrewPlace& screw : screws_of(session, yard, *session.selection.selected)) {
    // Only heads that are seen carry their label.
    if (glm::dot(screw.outward_world, eye - screw.head_world) <= 0.0) continue;
    const Projected head = see(yard, screw.head_world);
    if (head.depth_m <= 0.0) continue;
    // The label stands outside the facet, on the far side of its screw.
    const ImVec2 at = on_screen(head, place);
    const base::Vec2 away = outward_on_screen(head.place - middle.place);
    const ImVec2 size = widgets::text_size(screw.label);
    const auto shift = 0.5f * std::max(size.x, size.y) + 8.0f;
    widgets::label_at(draw,
                      {at.x + shift * static_cast<float>(away.x) - 0.5f * size.x,
                       at.y + shift * static_cast<float>(away.y) - 0.5f * size.y},
                      look::theme().copper, screw.label);
  }
}

void label_sun_and_person(ImDrawList& draw, const Yard& yard, const page::Rect& place) {
  const look::Theme& theme = look::theme();
  const SunPlace sun = sun_place(*yard.model.scene, yard.model.ground);
  const Eye eye = eye_of(yard.camera);
  const Projected beside = see(yard, sun.disc_world + 1.5 * sun.radius_m * eye.right);
  if (beside.depth_m > 0.0 && shows_sun(sun, yard.camera)) {
    const ImVec2 at = on_screen(beside, place);
    widgets::text_at(draw, {at.x + 4.0f, at.y - 8.0f}, theme.ink_soft, "sunlight",
                     look::FontSize::small);
  }
  const Projected head =
      see(yard, yard.model.ground.person_world + base::Vec3(0.0, 0.0, k_person_height_m));
  if (head.depth_m > 0.0 && shows_person(yard.camera)) {
    const ImVec2 at = on_screen(head, place);
    widgets::text_centred_at(draw, {at.x, at.y - 18.0f}, theme.ink_soft, "1.75 m",
                             look::FontSize::small);
  }
}

// Tests find facets of the picture as they find any other control.
void note_facets(const Yard& yard, const page::Rect& place) {
  const auto& facets = yard.model.scene->facets;
  if (facets.size() > k_most_noted) return;
  for (const optics::SceneFacet& facet : facets) {
    const Projected middle = see(yard, base::point_to_outer(yard.model.ground.world_from_dish,
                                                            facet.dish_from_facet.origin));
    if (middle.depth_m <= 0.0) continue;
    const ImVec2 at = on_screen(middle, place);
    platform::note_item(("facet " + facet.id.text).c_str(), at.x - 3.0f, at.y - 3.0f, 6.0f, 6.0f);
  }
}

}  // namespace

std::vector<ScrewPlace> screws_of(const session::Session& session, const Yard& yard,
                                  const dish::FacetId& facet) {
  const std::size_t index = index_of(yard.model, facet);
  if (index == dish::k_no_facet || !session.stances.value.has_value()) return {};
  const auto& stances = *session.stances.value;
  if (index >= stances.size()) return {};
  return screw_places(session.document.dish, session.document.dish.facets[index],
                      stances[index].nominal, yard.model.ground);
}

void show_overlay(const session::Session& session, Yard& yard, const page::Rect& place,
                  session::Actions& actions) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const look::Theme& theme = look::theme();
  if (!yard.model.scene.has_value()) {
    widgets::text_at(draw, {place.x + k_edge, place.y + 60.0f}, theme.ink,
                     "This dish cannot be shown.");
    widgets::text_at(draw, {place.x + k_edge, place.y + 82.0f}, theme.ink_soft, yard.model.trouble);
    return;
  }
  label_sun_and_person(draw, yard, place);
  if (session.selection.hovered.has_value() &&
      session.selection.hovered != session.selection.selected) {
    label_facet(draw, session, yard, place, *session.selection.hovered);
  }
  if (session.selection.selected.has_value()) {
    label_facet(draw, session, yard, place, *session.selection.selected);
  }
  label_screws(draw, session, yard, place);
  show_views(yard, place);
  show_ray_choice(session, place, actions);
  show_legend(yard, place);
  show_tints(session, place, actions);
  widgets::text_ending_at(draw, {place.right() - k_edge, place.bottom() - 28.0f}, theme.ink_soft,
                          sidedness(yard, place.width < 480.0f), look::FontSize::small);
  note_facets(yard, place);
}

}  // namespace yard
