// Everything is placed by the photo's pixels.
#include "page/photos/canvas.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/photos/facet_rings.h"
#include "page/photos/photo_view.h"
#include "page/platform/item_table.h"
#include "page/widgets/words.h"
#include "session/photos.h"

namespace page {
namespace {

namespace act = session::act;
using base::Vec2;

constexpr double k_most_zoom = 40.0;
constexpr float k_grab_px = 14.0F;
constexpr int k_lines_along = 10;

PhotoView view_of(PhotoCanvas& canvas, const session::BoardPhoto& photo, const Rect& place) {
  if (!canvas.is_placed) {
    canvas.zoom = 1.0;
    canvas.middle_px = {0.5 * photo.width_px, 0.5 * photo.height_px};
    canvas.is_placed = true;
  }
  const double fit = std::min(place.width / static_cast<double>(std::max(photo.width_px, 1)),
                              place.height / static_cast<double>(std::max(photo.height_px, 1)));
  return {place, fit * canvas.zoom, canvas.middle_px};
}

void refresh(PhotoCanvas& canvas, const session::BoardPhoto& photo) {
  if (canvas.number == photo.number) return;
  canvas.number = photo.number;
  canvas.is_placed = false;
  canvas.dragged.reset();
  const auto* bytes = reinterpret_cast<const std::uint8_t*>(photo.rgba->data());
  canvas.picture.fill_rgba(photo.width_px, photo.height_px,
                           std::vector<std::uint8_t>(bytes, bytes + photo.rgba->size()), true);
}

bool is_pointing(const PhotoCanvas& canvas) { return canvas.pointing || canvas.pointing_facet; }

void move_by_hand(PhotoCanvas& canvas, const PhotoView& view) {
  const ImGuiIO& io = ImGui::GetIO();
  if (ImGui::IsItemHovered() && io.MouseWheel != 0.0F) {
    const Vec2 under = view.in_photo(io.MousePos);
    const double zoom = std::clamp(canvas.zoom * std::exp2(0.25 * io.MouseWheel), 0.5, k_most_zoom);
    canvas.middle_px = under + (canvas.middle_px - under) * (canvas.zoom / zoom);
    canvas.zoom = zoom;
  }
  if (ImGui::IsItemActive() && !canvas.dragged && !is_pointing(canvas)) {
    canvas.middle_px -= Vec2(io.MouseDelta.x, io.MouseDelta.y) / view.scale;
  }
}

/// A place on the board, in the photo, on the screen.
std::optional<ImVec2> board_on_screen(const session::Session& session, const PhotoView& view,
                                      std::size_t photo, const Vec2& board_m) {
  const auto px = session::in_photo(session, photo, board_m);
  if (!px) return {};
  return view.on_screen(*px);
}

/// The board's edges and middle lines as the map sees them: straight ones only if the lens is.
void draw_board(ImDrawList& draw, const session::Session& session, const PhotoView& view,
                std::size_t photo) {
  const photo::Board& board = session.photo_work.board;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const auto line = [&](const Vec2& from, const Vec2& to, ImU32 colour, float width) {
    std::vector<ImVec2> points;
    for (int k = 0; k <= k_lines_along; ++k) {
      const double share = static_cast<double>(k) / k_lines_along;
      const auto at = board_on_screen(session, view, photo, from + share * (to - from));
      if (at) points.push_back(*at);
    }
    draw.AddPolyline(points.data(), static_cast<int>(points.size()), colour, 0, width);
  };
  const double x = 0.5 * board.width_m;
  const double y = 0.5 * board.height_m;
  const ImU32 edge = look::faded(lamp.cool, 0.8F);
  line({-x, -y}, {x, -y}, edge, 1.5F);
  line({x, -y}, {x, y}, edge, 1.5F);
  line({x, y}, {-x, y}, edge, 1.5F);
  line({-x, y}, {-x, -y}, edge, 1.5F);
  const ImU32 middle = look::faded(lamp.cool, 0.35F);
  line({-x, 0.0}, {x, 0.0}, middle, 1.0F);
  line({0.0, -y}, {0.0, y}, middle, 1.0F);
}

void draw_marks(ImDrawList& draw, const session::Session& session, const PhotoView& view,
                std::size_t photo) {
  const session::PhotoWork& work = session.photo_work;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const auto cross = [&](const Vec2& px, ImU32 colour) {
    const ImVec2 at = view.on_screen(px);
    draw.AddLine({at.x - 9.0F, at.y}, {at.x + 9.0F, at.y}, colour, 1.5F);
    draw.AddLine({at.x, at.y - 9.0F}, {at.x, at.y + 9.0F}, colour, 1.5F);
  };
  if (photo < work.view.size() && work.view[photo]) {
    for (const photo::SeenMark& mark : work.view[photo]->marks) cross(mark.image_px, lamp.cool);
  }
  for (const photo::ClickedMark& mark : work.photos[photo].clicked) {
    cross(mark.image_px, lamp.copper);
    widgets::label_at(draw, view.on_screen(mark.image_px + Vec2(6.0, 6.0) / view.scale),
                      lamp.copper, photo::marks_of(work.board)[mark.mark].name);
  }
}

/// Sure spots have a ring, doubtful ones a dashed one with a question mark, nobody's a cross.
void draw_spot(ImDrawList& draw, const PhotoView& view, const session::NamedSpot& named,
               bool is_selected, float radius) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const ImVec2 at = view.on_screen(named.image_px);
  if (!named.facet) {
    draw.AddLine({at.x - 6.0F, at.y - 6.0F}, {at.x + 6.0F, at.y + 6.0F}, lamp.doubt, 2.0F);
    draw.AddLine({at.x - 6.0F, at.y + 6.0F}, {at.x + 6.0F, at.y - 6.0F}, lamp.doubt, 2.0F);
    return;
  }
  const bool is_sure = named.doubt == naming::Doubt::none;
  const ImU32 colour = is_selected ? lamp.copper : is_sure ? lamp.ok : lamp.doubt;
  const int dashes = is_sure ? 1 : 6;
  for (int k = 0; k < dashes; ++k) {
    const float from = static_cast<float>(k) * 6.2832F / static_cast<float>(dashes);
    draw.PathArcTo(at, radius, from, from + (is_sure ? 6.2832F : 0.62F), 24);
    draw.PathStroke(colour, 0, is_selected ? 3.0F : 2.0F);
  }
  widgets::label_at(draw, {at.x + radius * 0.72F, at.y - radius - 10.0F}, colour,
                    named.facet->text + (is_sure ? "" : " ?"));
}

float radius_of(const session::Session& session, const PhotoView& view, std::size_t photo,
                const session::NamedSpot& named) {
  const auto at = board_on_screen(session, view, photo, named.spot.place_m);
  const auto edge = board_on_screen(session, view, photo,
                                    named.spot.place_m + Vec2(0.5 * named.spot.longer_m, 0.0));
  if (!at || !edge) return 10.0F;
  return std::clamp(std::hypot(edge->x - at->x, edge->y - at->y) + 3.0F, 7.0F, 90.0F);
}

template <class Things, class PlaceOf>
std::optional<std::size_t> nearest(const Things& things, const PlaceOf& place_of, float reach) {
  std::optional<std::size_t> found;
  const ImVec2 mouse = ImGui::GetIO().MousePos;
  for (std::size_t k = 0; k < things.size(); ++k) {
    const ImVec2 at = place_of(things[k]);
    const float distance = std::hypot(at.x - mouse.x, at.y - mouse.y);
    if (distance > reach) continue;
    reach = distance;
    found = k;
  }
  return found;
}

/// Picks a name up, carries it, and lets it go on a spot or on nothing.
void drag_names(const PhotoView& view, PhotoCanvas& canvas, std::size_t photo,
                const std::vector<session::NamedSpot>& spots,
                const std::vector<session::MissingSpot>& missing, session::Actions& actions) {
  const auto spot_at = [&](const auto& one) { return view.on_screen(one.image_px); };
  const auto under = nearest(spots, spot_at, 2.0F * k_grab_px);
  if (ImGui::IsItemActivated() && !canvas.pointing) {
    const auto lost = nearest(missing, spot_at, k_grab_px);
    if (under && spots[*under].facet) {
      canvas.dragged = DraggedName{*spots[*under].facet, *under};
      actions.push_back(act::Select{spots[*under].facet});
    } else if (lost) {
      canvas.dragged = DraggedName{missing[*lost].facet, {}};
    }
  }
  if (!canvas.dragged || ImGui::IsItemActive()) return;
  const DraggedName dragged = *canvas.dragged;
  canvas.dragged.reset();
  if (under == dragged.spot) return;
  if (under) {
    // Two names change places.
    const auto other = spots[*under].facet;
    if (dragged.spot) actions.push_back(act::NameSpot{photo, *dragged.spot, other});
    actions.push_back(act::NameSpot{photo, *under, dragged.facet});
  } else if (dragged.spot) {
    actions.push_back(act::NameSpot{photo, *dragged.spot, {}});
  }
}

void hint_for_spot(const std::vector<session::NamedSpot>& spots, const PhotoView& view) {
  const auto under = nearest(
      spots, [&](const auto& one) { return view.on_screen(one.image_px); }, k_grab_px);
  if (!under || !ImGui::IsItemHovered()) return;
  const session::NamedSpot& named = spots[*under];
  std::string text = named.facet ? "Facet " + named.facet->text : "Nobody's spot";
  if (named.is_by_hand) text += ", named by hand";
  if (!named.sentence.empty()) text += ": " + named.sentence;
  text += ". Drag the name to another spot to change it, or away from all to take it off.";
  widgets::hint_for_last(text.c_str());
}

/// Everything of a photo of the board: what is under the mouse, then what is drawn.
void show_board_and_spots(const session::Session& session, PhotoCanvas& canvas,
                          const PhotoView& view, session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const bool is_clicked = ImGui::IsItemActivated();
  if (is_clicked && canvas.pointing) {
    actions.push_back(
        act::PointAtMark{work.chosen, *canvas.pointing, view.in_photo(ImGui::GetIO().MousePos)});
  }
  const auto spots = session::spots_of_photo(session, work.chosen);
  const auto missing = session::missing_in_photo(session, work.chosen);
  drag_names(view, canvas, work.chosen, spots, missing, actions);
  move_by_hand(canvas, view);
  hint_for_spot(spots, view);
  if (canvas.pointing && ImGui::IsItemDeactivated()) canvas.pointing.reset();

  draw_board(draw, session, view, work.chosen);
  draw_marks(draw, session, view, work.chosen);
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  for (const session::MissingSpot& lost : missing) {
    const ImVec2 at = view.on_screen(lost.image_px);
    draw.AddCircle(at, 9.0F, look::faded(lamp.doubt, 0.8F), 24, 1.5F);
    widgets::label_at(draw, {at.x + 8.0F, at.y - 20.0F}, lamp.doubt, lost.facet.text + " ?");
  }
  for (std::size_t k = 0; k < spots.size(); ++k) {
    const bool is_selected = spots[k].facet && spots[k].facet == session.selection.selected;
    draw_spot(draw, view, spots[k], is_selected, radius_of(session, view, work.chosen, spots[k]));
    const ImVec2 at = view.on_screen(spots[k].image_px);
    const std::string name = spots[k].facet ? "spot of " + spots[k].facet->text : "nobody's spot";
    platform::note_item(name.c_str(), at.x - 6.0F, at.y - 6.0F, 12.0F, 12.0F);
  }
}

/// The next click is where the person sees the facet's middle.
void point_at_facet(PhotoCanvas& canvas, const PhotoView& view, session::Actions& actions) {
  if (!canvas.pointing_facet) return;
  if (ImGui::IsItemActivated()) {
    actions.push_back(
        act::PointAtFacet{*canvas.pointing_facet, view.in_photo(ImGui::GetIO().MousePos)});
  }
  if (ImGui::IsItemDeactivated()) canvas.pointing_facet.reset();
}

}  // namespace

void show_photo_canvas(const session::Session& session, PhotoCanvas& canvas, const Rect& place,
                       session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  if (work.chosen >= work.photos.size()) return;
  const session::BoardPhoto& photo = work.photos[work.chosen];
  refresh(canvas, photo);
  const PhotoView view = view_of(canvas, photo, place);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.PushClipRect({place.x, place.y}, {place.right(), place.bottom()}, true);
  draw.AddRectFilled({place.x, place.y}, {place.right(), place.bottom()}, IM_COL32(8, 8, 10, 255));
  draw.AddImage(
      reinterpret_cast<ImTextureID>(static_cast<std::intptr_t>(canvas.picture.name())),
      view.on_screen({0.0, 0.0}),
      view.on_screen({static_cast<double>(photo.width_px), static_cast<double>(photo.height_px)}));
  ImGui::SetCursorScreenPos({place.x, place.y});
  ImGui::InvisibleButton("photo canvas", {place.width, place.height});
  if (work.kind == session::PhotoKind::fringes) {
    point_at_facet(canvas, view, actions);
    move_by_hand(canvas, view);
    show_facet_rings(session, view);
  } else {
    show_board_and_spots(session, canvas, view, actions);
  }
  if (canvas.dragged) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    widgets::label_at(draw, {mouse.x + 10.0F, mouse.y - 24.0F},
                      look::theme_of(look::ThemeName::lamp).copper, canvas.dragged->facet.text);
  }
  draw.PopClipRect();
}

void forget(PhotoCanvas& canvas) {
  canvas.picture.forget();
  canvas.number = 0;
}

}  // namespace page
