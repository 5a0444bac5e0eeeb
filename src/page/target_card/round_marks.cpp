// Reads the round and the marks that were derived; nothing is worked out here.
#include "page/target_card/round_marks.h"

#include <algorithm>
#include <cmath>

#include "page/look/theme.h"
#include "page/widgets/words.h"
#include "session/figures.h"

namespace target_card {
namespace {

constexpr std::size_t k_most_crosses = 400;
constexpr std::size_t k_most_named = 80;
constexpr double k_reach_px = 12.0;
constexpr double k_least_side_m = 0.02;

void diamond(ImDrawList& draw, const ImVec2& middle, float size, const Stroke& stroke) {
  draw.AddQuad({middle.x, middle.y - size}, {middle.x + size, middle.y},
               {middle.x, middle.y + size}, {middle.x - size, middle.y}, stroke.colour,
               stroke.width);
}

void cross(ImDrawList& draw, const ImVec2& middle, float size, const Stroke& stroke) {
  draw.AddLine({middle.x - size, middle.y}, {middle.x + size, middle.y}, stroke.colour,
               stroke.width);
  draw.AddLine({middle.x, middle.y - size}, {middle.x, middle.y + size}, stroke.colour,
               stroke.width);
}

const tasks::MarksReply* expected_of(const session::Session& session) {
  return session.expected.value ? &*session.expected.value : nullptr;
}

const dish::Round* round_of(const session::Session& session) {
  return session.stage == session::Stage::align ? session::shown_round(session) : nullptr;
}

void draw_expected(ImDrawList& draw, const Plate& plate, const session::Session& session) {
  const tasks::MarksReply* expected = expected_of(session);
  if (expected == nullptr || expected->marks.size() > k_most_crosses) return;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  for (const tasks::FacetMark& mark : expected->marks) {
    const bool chosen = session.selection.selected == mark.id;
    const ImVec2 at = plate.on_screen(mark.board_m);
    const Stroke stroke{look::faded(lamp.copper, chosen ? 1.0f : 0.7f), chosen ? 2.0f : 1.0f};
    if (const auto seen = session::seen_spot(session, mark.id)) {
      draw.AddLine(plate.on_screen(*seen), at, look::faded(lamp.cool, chosen ? 0.9f : 0.3f),
                   stroke.width);
    }
    cross(draw, at, chosen ? 6.0f : 3.5f, stroke);
    if (chosen) {
      draw.AddCircle(at, static_cast<float>(mark.ring_m * plate.px_per_m()), stroke.colour, 48);
    }
  }
}

void draw_names(ImDrawList& draw, const Plate& plate, const dish::Round& round) {
  if (round.spots.size() > k_most_named) return;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  for (const dish::Spot& spot : round.spots) {
    const ImVec2 at = plate.on_screen(spot.seen_m);
    widgets::text_at(draw, {at.x + 6.0f, at.y - 14.0f}, look::faded(lamp.ink, 0.8f),
                     spot.facet.text, look::FontSize::small);
  }
}

}  // namespace

bool has_own_board(const session::Session& session) {
  const dish::Round* round = round_of(session);
  return round != nullptr && round->board.has_value();
}

double board_side_m(const session::Session& session) {
  double half = 0.0;
  const auto reach = [&](const base::Vec2& at) {
    half = std::max({half, std::abs(at.x), std::abs(at.y)});
  };
  if (const dish::Round* round = round_of(session)) {
    for (const dish::Spot& spot : round->spots) reach(spot.seen_m);
  }
  if (const tasks::MarksReply* expected = expected_of(session)) {
    for (const tasks::FacetMark& mark : expected->marks) reach(mark.board_m);
  }
  return std::max(1.7 * half, k_least_side_m);
}

void draw_round_marks(ImDrawList& draw, const Plate& plate, const session::Session& session) {
  const dish::Round* round = round_of(session);
  if (round == nullptr) return;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  draw_expected(draw, plate, session);
  for (const dish::Spot& spot : round->spots) {
    const bool chosen = session.selection.selected == spot.facet;
    diamond(draw, plate.on_screen(spot.seen_m), chosen ? 6.5f : 4.5f,
            {look::faded(lamp.cool, chosen ? 1.0f : 0.75f), chosen ? 2.0f : 1.2f});
  }
  if (round->board) draw_names(draw, plate, *round);
}

void draw_marks_key(ImDrawList& draw, const Plate& plate, const session::Session& session,
                    bool on_board) {
  const dish::Round* round = round_of(session);
  if (round == nullptr || round->spots.empty()) return;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const ImU32 ink = look::faded(lamp.ink, 0.7f);
  const float y = plate.place.bottom() - 21.0f;
  float right = plate.place.right() - 10.0f;
  const auto say = [&](const char* text) {
    right -= widgets::text_size(text, look::FontSize::small).x;
    widgets::text_at(draw, {right, y}, ink, text, look::FontSize::small);
    right -= 10.0f;
  };
  if (round->board.has_value() && !on_board) {
    say("spots seen on the round's board");
    return;
  }
  say("belongs");
  cross(draw, {right, y + 8.0f}, 3.5f, {lamp.copper, 1.2f});
  right -= 16.0f;
  say("seen");
  diamond(draw, {right, y + 8.0f}, 4.5f, {lamp.cool, 1.2f});
}

std::optional<dish::FacetId> mark_under(const Plate& plate, const session::Session& session,
                                        const ImVec2& pointer) {
  std::optional<dish::FacetId> nearest;
  double nearest_px = k_reach_px;
  const auto look_at = [&](const dish::FacetId& facet, const base::Vec2& at_m) {
    const ImVec2 at = plate.on_screen(at_m);
    const double distance = std::hypot(at.x - pointer.x, at.y - pointer.y);
    if (distance >= nearest_px) return;
    nearest = facet;
    nearest_px = distance;
  };
  if (const dish::Round* round = round_of(session)) {
    for (const dish::Spot& spot : round->spots) look_at(spot.facet, spot.seen_m);
  }
  if (const tasks::MarksReply* expected = expected_of(session)) {
    for (const tasks::FacetMark& mark : expected->marks) look_at(mark.id, mark.board_m);
  }
  return nearest;
}

void show_board_words(const page::Rect& place) {
  widgets::text_at(*ImGui::GetWindowDrawList(), {place.x, place.y + 11.0f}, look::theme().ink_soft,
                   "As seen facing the board's lit side", look::FontSize::small);
}

}  // namespace target_card
