// Plate on top, as large as the column allows; scale and figures take the rest.
#include "page/target_card/card.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "page/look/ramp.h"
#include "page/look/theme.h"
#include "page/target_card/figures.h"
#include "page/target_card/round_marks.h"
#include "page/target_card/spots.h"
#include "page/widgets/numbers.h"
#include "page/widgets/words.h"
#include "session/figures.h"

namespace target_card {
namespace {

constexpr float k_edge = 16.0f;
constexpr float k_head = 36.0f;
constexpr float k_scale = 40.0f;
constexpr double k_stops = 8.0;  // of exposure, each way
constexpr float k_drag_threshold_px = 4.0f;

struct Receiver {
  bool is_round = true;
  base::Vec2 half_m{0.1, 0.1};
  double area_m2 = 0.0;
  [[nodiscard]] double longer_side_m() const { return 2.0 * std::max(half_m.x, half_m.y); }
};

Receiver receiver_of(const dish::Dish& dish) {
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&dish.receiver.shape)) {
    const double radius = 0.5 * disc->diameter_m;
    return {true, {radius, radius}, base::k_pi * radius * radius};
  }
  const auto& plate = std::get<dish::RectangleReceiver>(dish.receiver.shape);
  return {false, {0.5 * plate.width_m, 0.5 * plate.height_m}, plate.width_m * plate.height_m};
}

// The flux at the end of the ramp (W/m²), a round number at or above the peak.
double ramp_end(const optics::TraceResult& light) {
  const double peak = std::max(light.peak_W_m2, 1.0);
  const double decade = std::pow(10.0, std::floor(std::log10(peak)));
  for (const double step : {1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0}) {
    if (peak <= step * decade) return step * decade;
  }
  return 10.0 * decade;
}

// The flux that shows as full (W/m²): of exposure 1, or of the ramp's end.
double full_flux(const session::Session& session, const Card& card,
                 const optics::TraceResult& light) {
  if (card.look == widgets::MapLook::ramp) return ramp_end(light);
  const Receiver receiver = receiver_of(session.document.dish);
  return widgets::reference_flux_W_m2(light, receiver.area_m2) /
         std::exp2(session.preferences.exposure_stops);
}

// As light the quick evaluation, which has no grain; as a map what the figures are read from.
const optics::TraceResult* light_to_draw(const session::Session& session, widgets::MapLook look) {
  const bool quick = look == widgets::MapLook::light && session.live.value.has_value();
  return quick ? &session.live.value->figures : session::light_of(session);
}

void refresh_picture(const session::Session& session, Card& card,
                     const optics::TraceResult& light) {
  const bool is_quick = session.live.value.has_value() && &light == &session.live.value->figures;
  const Made wanted{.revision = session.live.revision,
                    .full = !is_quick,
                    .look = card.look,
                    .full_W_m2 = full_flux(session, card, light)};
  const bool same = card.made.has_value() && card.made->revision == wanted.revision &&
                    card.made->full == wanted.full && card.made->look == wanted.look &&
                    card.made->full_W_m2 == wanted.full_W_m2;
  if (same || light.map.columns <= 0 || light.map.rows <= 0) return;
  card.picture.fill_rgba(light.map.columns, light.map.rows,
                         widgets::map_picture(light.map, card.look, wanted.full_W_m2), true);
  card.made = wanted;
}

ImU32 plate_ground(widgets::MapLook look) {
  if (look == widgets::MapLook::light) return IM_COL32(0, 0, 0, 255);
  const look::Rgb dark = look::ramp(0.0);
  return ImGui::ColorConvertFloat4ToU32({static_cast<float>(dark.red),
                                         static_cast<float>(dark.green),
                                         static_cast<float>(dark.blue), 1.0f});
}

void draw_map(ImDrawList& draw, const Plate& plate, const Card& card, const optics::FluxMap& map) {
  draw.AddRectFilled({plate.place.x, plate.place.y}, {plate.place.right(), plate.place.bottom()},
                     plate_ground(card.look));
  if (!card.made.has_value()) return;
  const base::Vec2 half = 0.5 * map.size_m;
  const ImVec2 low = plate.on_screen(map.centre_m - half);
  const ImVec2 high = plate.on_screen(map.centre_m + half);
  draw.AddImage(reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(card.picture.name())),
                {low.x, high.y}, {high.x, low.y}, {0.0f, 1.0f}, {1.0f, 0.0f});
}

// Rings of round radii about the receiver's middle, each with its millimetres.
void draw_rings(ImDrawList& draw, const Plate& plate) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const double step = round_length(plate.half_m / 2.6);
  const ImVec2 middle = plate.on_screen({0.0, 0.0});
  const double reach = plate.half_m * 1.5 + glm::length(plate.centre_m);
  for (int ring = 1; ring * step < reach && ring <= 40; ++ring) {
    const auto radius = static_cast<float>(ring * step * plate.px_per_m());
    draw.AddCircle(middle, radius, look::faded(lamp.ink, 0.13f), 96);
    const std::string text = widgets::plain(base::mm_from_m(ring * step));
    const ImVec2 at{middle.x + 0.7071f * radius, middle.y + 0.7071f * radius};
    const ImVec2 size = widgets::text_size(text, look::FontSize::small);
    if (at.x + size.x + 4.0f > plate.place.right() || at.y + size.y > plate.place.bottom()) {
      continue;
    }
    widgets::text_at(draw, {at.x + 2.0f, at.y - 4.0f}, look::faded(lamp.ink, 0.55f), text,
                     look::FontSize::small);
  }
}

void draw_receiver(ImDrawList& draw, const Plate& plate, const Receiver& receiver) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const ImU32 line = look::faded(lamp.ink, 0.85f);
  const ImVec2 middle = plate.on_screen({0.0, 0.0});
  if (receiver.is_round) {
    const auto radius = static_cast<float>(receiver.half_m.x * plate.px_per_m());
    draw.AddCircle(middle, radius, line, 128, 1.4f);
  } else {
    const ImVec2 low = plate.on_screen(-receiver.half_m);
    const ImVec2 high = plate.on_screen(receiver.half_m);
    draw.AddRect({low.x, high.y}, {high.x, low.y}, line, 0.0f, 0, 1.4f);
  }
  constexpr float k_arm = 6.0f;
  draw.AddLine({middle.x - k_arm, middle.y}, {middle.x + k_arm, middle.y}, line);
  draw.AddLine({middle.x, middle.y - k_arm}, {middle.x, middle.y + k_arm}, line);
}

void draw_axes(ImDrawList& draw, const Plate& plate) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const ImU32 line = look::faded(lamp.ink, 0.5f);
  const double step = round_length(plate.half_m / 5.0);
  const auto index_from = [&](double at) { return static_cast<int>(std::ceil(at / step)); };
  const base::Vec2 low = plate.centre_m - plate.half_m;
  const base::Vec2 high = plate.centre_m + plate.half_m;
  for (int i = index_from(low.x); i * step < high.x; ++i) {
    const float x = plate.on_screen({i * step, 0.0}).x;
    draw.AddLine({x, plate.place.bottom() - 5.0f}, {x, plate.place.bottom()}, line);
  }
  for (int i = index_from(low.y); i * step < high.y; ++i) {
    const float y = plate.on_screen({0.0, i * step}).y;
    draw.AddLine({plate.place.x, y}, {plate.place.x + 5.0f, y}, line);
  }
  const std::string text = "ticks " + widgets::plain(base::mm_from_m(step)) + " mm";
  widgets::text_at(draw, {plate.place.x + 10.0f, plate.place.bottom() - 21.0f},
                   look::faded(lamp.ink, 0.6f), text, look::FontSize::small);
}

// Where the pointer is and how bright it is there.
void draw_reading(ImDrawList& draw, const Plate& plate, const optics::TraceResult& light) {
  const base::Vec2 at = plate.on_plane(ImGui::GetIO().MousePos);
  const base::Vec2 share = (at - light.map.centre_m) / light.map.size_m + 0.5;
  std::string text = widgets::decimals(base::mm_from_m(at.x), 1) + ", " +
                     widgets::decimals(base::mm_from_m(at.y), 1) + " mm";
  if (share.x >= 0.0 && share.x < 1.0 && share.y >= 0.0 && share.y < 1.0) {
    text += "   " + widgets::flux(light.map.at(static_cast<int>(share.x * light.map.columns),
                                               static_cast<int>(share.y * light.map.rows)));
  }
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  widgets::text_at(draw, {plate.place.x + 10.0f, plate.place.y + 6.0f}, lamp.ink, text,
                   look::FontSize::small);
}

void handle_pointer(const session::Session& session, Card& card, const Plate& plate,
                    session::Actions& actions) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool hovered = ImGui::IsItemHovered();
  if (ImGui::IsItemActivated()) card.pressed_moved = false;
  if (ImGui::IsItemActive()) {
    const ImVec2 whole = ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0.0f);
    if (std::hypot(whole.x, whole.y) > k_drag_threshold_px) card.pressed_moved = true;
    if (card.pressed_moved) card.view = dragged(card.view, plate, io.MouseDelta);
  }
  const auto find = card.shows_board ? mark_under : spot_under;
  const auto under = hovered && !card.pressed_moved ? find(plate, session, io.MousePos)
                                                    : std::optional<dish::FacetId>();
  if (under.has_value()) actions.push_back(session::act::Hover{under});
  if (ImGui::IsItemDeactivated()) {
    if (!card.pressed_moved && hovered) actions.push_back(session::act::Select{under, -1});
    card.pressed_moved = false;
  }
  if (hovered && io.MouseWheel != 0.0f) {
    card.view = zoomed(card.view, plate, io.MousePos, io.MouseWheel);
  }
  if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left)) card.view = PlateView();
}

void show_plate(const session::Session& session, Card& card, const page::Rect& place,
                session::Actions& actions) {
  const Receiver receiver = receiver_of(session.document.dish);
  const double side_m = card.shows_board ? board_side_m(session) : receiver.longer_side_m();
  const Plate plate = plate_of(card.view, place, side_m);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  ImGui::SetCursorScreenPos({place.x, place.y});
  ImGui::InvisibleButton("target plane", {place.width, place.height});
  const bool hovered = ImGui::IsItemHovered();
  handle_pointer(session, card, plate, actions);
  draw.PushClipRect({place.x, place.y}, {place.right(), place.bottom()}, true);
  const optics::TraceResult* light = card.shows_board ? nullptr : light_to_draw(session, card.look);
  if (light != nullptr) {
    refresh_picture(session, card, *light);
    draw_map(draw, plate, card, light->map);
  } else {
    draw.AddRectFilled({place.x, place.y}, {place.right(), place.bottom()},
                       plate_ground(card.look));
  }
  draw_rings(draw, plate);
  if (!card.shows_board) {
    draw_receiver(draw, plate, receiver);
    draw_spots(draw, plate, session, card.view.zoom);
  }
  if (card.shows_board == has_own_board(session)) draw_round_marks(draw, plate, session);
  draw_axes(draw, plate);
  draw_marks_key(draw, plate, session, card.shows_board);
  if (hovered && light != nullptr) draw_reading(draw, plate, *light);
  draw.PopClipRect();
}

void show_head(const session::Session& session, Card& card, const page::Rect& place) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const bool offers_board = has_own_board(session);
  card.shows_board = card.shows_board && offers_board;
  widgets::text_at(draw, {place.x + k_edge, place.y + 13.0f}, look::theme().ink,
                   card.shows_board ? "The round's board" : "Target plane");
  const auto choose = [&](const char* name, bool is_board, widgets::MapLook look,
                          const char* hint) {
    const bool chosen = card.shows_board == is_board && (is_board || card.look == look);
    if (!widgets::word(name, chosen, hint)) return;
    if (card.shows_board != is_board) card.view = PlateView();
    card.shows_board = is_board;
    card.look = look;
  };
  ImGui::SetCursorScreenPos(
      {place.right() - k_edge - (offers_board ? 138.0f : 86.0f), place.y + 8.0f});
  choose("Light", false, widgets::MapLook::light, "The spot as light, with an exposure.");
  ImGui::SameLine(0.0f, 4.0f);
  choose("Map", false, widgets::MapLook::ramp, "The flux on an even scale, with its unit.");
  if (!offers_board) return;
  ImGui::SameLine(0.0f, 4.0f);
  choose("Board", true, card.look,
         "The board of the shown round: where spots were seen, and where they belong.");
}

void show_exposure(const session::Session& session, const page::Rect& place,
                   session::Actions& actions) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const look::Theme& theme = look::theme();
  widgets::text_at(draw, {place.x, place.y + 11.0f}, theme.ink_soft, "Exposure",
                   look::FontSize::small);
  double stops = session.preferences.exposure_stops;
  ImGui::SetCursorScreenPos({place.x + 58.0f, place.y + 7.0f});
  if (widgets::thin_slider({.id = "exposure",
                            .width = place.width - 58.0f - 62.0f,
                            .least = -k_stops,
                            .most = k_stops,
                            .home = 0.0,
                            .key_step = 0.5},
                           stops)) {
    actions.push_back(session::act::SetExposure{stops});
  }
  widgets::hint_for_last(
      "How long the picture of the spot is exposed. At 0 the light that leaves "
      "the facets, spread evenly over the receiver, is a bright amber. Double "
      "click for 0.");
  widgets::text_ending_at(draw, {place.right(), place.y + 11.0f}, theme.ink,
                          widgets::decimals(stops, 1) + " stops", look::FontSize::small);
}

std::string round_flux(double flux_W_m2) {
  if (flux_W_m2 < 1000.0) return widgets::plain(flux_W_m2) + " W/m²";
  return widgets::plain(flux_W_m2 / 1000.0) + " kW/m²";
}

void show_ramp(const optics::TraceResult& light, const page::Rect& place) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const ImU32 ink = look::theme().ink_soft;
  widgets::ramp_bar(draw, {place.x, place.y + 8.0f}, {place.right(), place.y + 15.0f});
  const double end = ramp_end(light);
  widgets::text_at(draw, {place.x, place.y + 19.0f}, ink, "0", look::FontSize::small);
  widgets::text_centred_at(draw, {place.x + 0.5f * place.width, place.y + 19.0f}, ink,
                           round_flux(0.5 * end), look::FontSize::small);
  widgets::text_ending_at(draw, {place.right(), place.y + 19.0f}, ink, round_flux(end),
                          look::FontSize::small);
}

}  // namespace

void show_card(const session::Session& session, Card& card, const page::Rect& place,
               session::Actions& actions) {
  const float inner = place.width - 2.0f * k_edge;
  const float side =
      std::floor(std::min(inner, place.height - k_head - k_scale - figures_height() - 8.0f));
  const page::Rect plate{place.x + k_edge + std::floor(0.5f * (inner - side)), place.y + k_head,
                         side, side};
  show_head(session, card, place);
  show_plate(session, card, plate, actions);
  const page::Rect scale{place.x + k_edge, plate.bottom(), inner, k_scale};
  const optics::TraceResult* light = session::light_of(session);
  if (card.shows_board) {
    show_board_words(scale);
  } else if (card.look == widgets::MapLook::light) {
    show_exposure(session, scale, actions);
  } else if (light != nullptr) {
    show_ramp(*light, scale);
  }
  show_figures(session, {place.x + k_edge, scale.bottom(), inner, figures_height()}, actions);
}

void forget(Card& card) {
  card.picture.forget();
  card.made.reset();
}

}  // namespace target_card
