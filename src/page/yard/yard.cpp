// Where the eye is, and when the picture must be drawn again.
#include "page/yard/yard.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "page/platform/window.h"
#include "page/widgets/light.h"
#include "page/yard/frame_lines.h"
#include "page/yard/lights.h"
#include "page/yard/overlay.h"
#include "page/yard/parts.h"
#include "page/yard/pick.h"

namespace yard {
namespace {

constexpr double k_glide_s = 0.45;
constexpr float k_drag_threshold_px = 4.0f;
constexpr double k_eye_step_rad = 0.12;
constexpr std::size_t k_most_with_screws = 150;
constexpr Margins k_margins{.left = 22.0, .right = 22.0, .top = 50.0, .bottom = 62.0};

Camera camera_of_view(const Yard& yard) {
  const auto points =
      points_to_show(*yard.model.scene, yard.model.struts_dish, yard.model.ground, *yard.view);
  return named_camera(points, *yard.view, yard.picture, k_margins);
}

void glide_to(Yard& yard, const Camera& camera) {
  if (!yard.placed || platform::prefers_reduced_motion()) {
    yard.camera = camera;
    yard.placed = true;
    yard.glide.share = 1.0;
    return;
  }
  yard.glide = {yard.camera, camera, 0.0};
}

void advance_glide(Yard& yard) {
  if (yard.glide.share >= 1.0) return;
  yard.glide.share = std::min(1.0, yard.glide.share + ImGui::GetIO().DeltaTime / k_glide_s);
  const double share = yard.glide.share;
  yard.camera = between(yard.glide.from, yard.glide.to, share * share * (3.0 - 2.0 * share));
  platform::request_frames(1);
}

// Keeps a named view fitted when the window or the dish has another size.
void keep_view(Yard& yard, const Picture& picture, const Ground& before) {
  const bool resized = picture.width != yard.picture.width || picture.height != yard.picture.height;
  yard.picture = picture;
  if (!yard.model.scene.has_value()) return;
  const double growth = yard.model.ground.reach_m / std::max(before.reach_m, 1e-6);
  const bool other_size = growth > 1.02 || growth < 0.98;
  if (yard.placed && other_size && (growth > 1.3 || growth < 0.75)) {
    yard.view = yard.view.value_or(NamedView::three_quarter);
  }
  if (!yard.view.has_value() || (yard.placed && !resized && !other_size)) return;
  if (resized) yard.placed = false;
  glide_to(yard, camera_of_view(yard));
}

void hand_moves(Yard& yard) {
  yard.glide.share = 1.0;
  yard.view.reset();
}

base::Vec2 pointer_in(const page::Rect& place) {
  const ImVec2 pointer = ImGui::GetIO().MousePos;
  return {pointer.x - place.x, pointer.y - place.y};
}

std::optional<dish::FacetId> facet_under(const Yard& yard, const base::Vec2& pointer) {
  const base::Pose& world = yard.model.ground.world_from_dish;
  const base::Vec3 from = base::point_to_inner(world, eye_of(yard.camera).place);
  const base::Vec3 direction =
      base::direction_to_inner(world, direction_through(yard.camera, yard.picture, pointer));
  const auto hit = pick_facet(*yard.model.scene, from, direction);
  if (!hit.has_value()) return std::nullopt;
  return yard.model.scene->facets[hit->facet].id;
}

void drag_eye(Yard& yard) {
  const ImGuiIO& io = ImGui::GetIO();
  const bool left = ImGui::IsMouseDown(ImGuiMouseButton_Left);
  const ImVec2 whole = ImGui::GetMouseDragDelta(left ? ImGuiMouseButton_Left
                                                : ImGui::IsMouseDown(ImGuiMouseButton_Right)
                                                    ? ImGuiMouseButton_Right
                                                    : ImGuiMouseButton_Middle,
                                                0.0f);
  if (std::hypot(whole.x, whole.y) > k_drag_threshold_px) yard.pressed_moved = true;
  if (!yard.pressed_moved || (io.MouseDelta.x == 0.0f && io.MouseDelta.y == 0.0f)) return;
  hand_moves(yard);
  const base::Vec2 delta{io.MouseDelta.x, io.MouseDelta.y};
  yard.camera = left && !io.KeyShift ? orbit(yard.camera, yard.picture, delta)
                                     : pan(yard.camera, yard.picture, delta);
}

// Pointer over the picture: hover, select, orbit, pan, zoom. `pressed`: a click went down and up on
// it, perhaps within a single frame.
void handle_pointer(Yard& yard, const page::Rect& place, bool pressed, session::Actions& actions) {
  const bool hovered = ImGui::IsItemHovered();
  if (ImGui::IsItemActivated()) yard.pressed_moved = false;
  if (ImGui::IsItemActive()) drag_eye(yard);
  if (!yard.model.scene.has_value()) return;
  const auto under = hovered && !yard.pressed_moved ? facet_under(yard, pointer_in(place))
                                                    : std::optional<dish::FacetId>();
  if (under.has_value()) actions.push_back(session::act::Hover{under});
  if (pressed && !yard.pressed_moved) {
    actions.push_back(session::act::Select{facet_under(yard, pointer_in(place)), -1});
  }
  if (ImGui::IsItemDeactivated()) yard.pressed_moved = false;
  const float wheel = ImGui::GetIO().MouseWheel;
  if (hovered && wheel != 0.0f) {
    hand_moves(yard);
    yard.camera =
        zoom(yard.camera, yard.picture, wheel, pointer_in(place), yard.model.ground.reach_m);
  }
  if (hovered && ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left) && !under.has_value()) {
    look_from(yard, NamedView::three_quarter);
  }
}

Drawn drawn_from(const session::Session& session, const Yard& yard) {
  return {.revision = yard.model.revision,
          .live_revision = session.live.value.has_value() ? session.live.revision : 0,
          .tracking_error_rad = yard.model.tracking_error_rad,
          .hovered = session.selection.hovered,
          .selected = session.selection.selected,
          .screw = session.selection.screw,
          .tint = session.preferences.tint,
          .picture_rays = session.preferences.picture_rays,
          .shadows_known = session.shadows.value.has_value(),
          .theme = session.preferences.theme,
          .exposure_stops = session.preferences.exposure_stops,
          .camera = yard.camera,
          .pixel_ratio = ImGui::GetIO().DisplayFramebufferScale.x};
}

bool same(const Camera& a, const Camera& b) {
  return a.target == b.target && a.azimuth_rad == b.azimuth_rad &&
         a.elevation_rad == b.elevation_rad && a.distance_m == b.distance_m;
}

bool same(const Drawn& a, const Drawn& b) {
  return a.revision == b.revision && a.live_revision == b.live_revision &&
         a.tracking_error_rad == b.tracking_error_rad && a.hovered == b.hovered &&
         a.selected == b.selected && a.screw == b.screw && a.tint == b.tint &&
         a.picture_rays == b.picture_rays && a.shadows_known == b.shadows_known &&
         a.theme == b.theme && a.exposure_stops == b.exposure_stops && same(a.camera, b.camera) &&
         a.pixel_ratio == b.pixel_ratio;
}

void add_facet_screws(Solids& solids, const session::Session& session, const Yard& yard,
                      const dish::FacetId& facet, bool lit) {
  for (const ScrewPlace& screw : screws_of(session, yard, facet)) {
    add_screws(solids, {screw}, lit);
  }
}

Solids solids_of(const session::Session& session, const Yard& yard) {
  const dish::Dish& dish = session.document.dish;
  Solids solids = make_parts(dish, yard.model.ground);
  if (yard.model.scene->secondary.has_value()) {
    add_secondary(solids, *yard.model.scene->secondary, yard.model.ground);
  }
  if (shows_person(yard.camera)) {
    add_person(solids, yard.model.ground, yard.camera.azimuth_rad);
  }
  for (const dish::Facet& facet : dish.facets) {
    const bool lit = session.selection.selected == facet.id;
    if (lit || dish.facets.size() <= k_most_with_screws) {
      add_facet_screws(solids, session, yard, facet.id, lit);
    }
  }
  return solids;
}

Ribbons ribbons_of(const session::Session& session, const Yard& yard, const Palette& palette) {
  Ribbons ribbons;
  const Ground& ground = yard.model.ground;
  add_frame_lines(ribbons, *yard.model.scene, session.document.dish.focal_length_m,
                  yard.model.struts_dish, ground, palette);
  add_sun_lines(ribbons, sun_place(*yard.model.scene, ground), ground, yard.camera, palette);
  const int each = session.preferences.picture_rays;
  add_rays(ribbons, *yard.model.scene, each, ground, palette);
  for (const auto& chosen : {session.selection.hovered, session.selection.selected}) {
    const std::size_t index = index_of(yard.model, chosen);
    if (index == dish::k_no_facet) continue;
    add_lit_rays(ribbons, *yard.model.scene, index, each, ground, palette);
  }
  return ribbons;
}

// The spot as light, and how bright its peak is; fills the flux picture.
void add_spot_of(std::vector<LightPiece>& lights, const session::Session& session, Yard& yard) {
  if (!session.live.value.has_value()) return;
  const optics::TraceResult& figures = session.live.value->figures;
  const double reference =
      widgets::reference_flux_W_m2(figures, yard.model.scene->receiver.area_m2);
  if (reference <= 0.0) return;
  const double gain = std::exp2(session.preferences.exposure_stops);
  yard.drawing.fill_flux(figures.map, reference / gain);
  add_spot(lights, *yard.model.scene, figures.map, gain * figures.peak_W_m2 / reference,
           yard.model.ground, yard.camera);
}

}  // namespace

namespace {

void show_picture(Yard& yard, const page::Rect& place, session::Actions& actions) {
  ImGui::SetCursorScreenPos({place.x, place.y});
  const bool pressed =
      ImGui::InvisibleButton("yard", {place.width, place.height},
                             ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight |
                                 ImGuiButtonFlags_MouseButtonMiddle);
  handle_pointer(yard, place, pressed && ImGui::IsMouseReleased(ImGuiMouseButton_Left), actions);
  const auto picture = static_cast<std::intptr_t>(yard.canvas.picture().name());
  ImGui::GetWindowDrawList()->AddImage(reinterpret_cast<ImTextureID>(picture), {place.x, place.y},
                                       {place.right(), place.bottom()}, {0.0f, 1.0f}, {1.0f, 0.0f});
}

}  // namespace

void look_from(Yard& yard, NamedView view) {
  yard.view = view;
  if (yard.model.scene.has_value()) glide_to(yard, camera_of_view(yard));
  platform::request_frames(2);
}

void step_eye(Yard& yard, double right, double up) {
  hand_moves(yard);
  Camera& camera = yard.camera;
  camera.azimuth_rad += k_eye_step_rad * right;
  camera.elevation_rad =
      std::clamp(camera.elevation_rad + k_eye_step_rad * up, -k_steepest_rad, k_steepest_rad);
}

void step_nearer(Yard& yard, double steps) {
  hand_moves(yard);
  const base::Vec2 middle{0.5 * yard.picture.width, 0.5 * yard.picture.height};
  yard.camera = zoom(yard.camera, yard.picture, steps, middle, yard.model.ground.reach_m);
}

void forget(Yard& yard) {
  yard.drawing.forget();
  yard.canvas.forget();
  yard.tiles_stale = true;
  yard.drawn.reset();
}

void show_yard(const session::Session& session, Yard& yard, const page::Rect& place,
               session::Actions& actions) {
  const Ground before = yard.model.ground;
  if (refresh(yard.model, session)) yard.tiles_stale = true;
  keep_view(yard, {place.width, place.height}, before);
  advance_glide(yard);
  const ImVec2 scale = ImGui::GetIO().DisplayFramebufferScale;
  if (yard.canvas.resize(std::max(1, static_cast<int>(std::lround(place.width * scale.x))),
                         std::max(1, static_cast<int>(std::lround(place.height * scale.y))))) {
    yard.drawn.reset();
  }
  yard.tint = tint_scale(session);
  // The words over the picture come first, so that a press on them is theirs; they are drawn last.
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw.ChannelsSplit(2);
  draw.ChannelsSetCurrent(1);
  show_overlay(session, yard, place, actions);
  draw.ChannelsSetCurrent(0);
  show_picture(yard, place, actions);
  draw.ChannelsMerge();
}

void draw_yard(const session::Session& session, Yard& yard) {
  const Drawn wanted = drawn_from(session, yard);
  if (yard.drawn.has_value() && same(*yard.drawn, wanted)) return;
  yard.drawn = wanted;
  const look::Theme& theme = look::theme();
  const Palette palette = palette_of(theme);
  yard.drawing.prepare();
  if (!yard.model.scene.has_value()) {
    yard.drawing.clear(palette, yard.canvas);
    return;
  }
  if (yard.tiles_stale) {
    yard.drawing.fill_tiles(make_tiles(*yard.model.scene, yard.model.ground.world_from_dish));
    yard.tiles_stale = false;
  }
  yard.drawing.fill_marks(facet_marks(session, yard.tint));
  const bool in_shadow = session.preferences.tint == session::Tint::shadow;
  yard.drawing.fill_shadows(in_shadow && session.shadows.value.has_value()
                                ? shadow_atlas(*session.shadows.value)
                                : ShadowAtlas());
  yard.drawing.fill_solids(solids_of(session, yard), theme);
  yard.drawing.fill_ribbons(ribbons_of(session, yard, palette));
  const SunPlace sun = sun_place(*yard.model.scene, yard.model.ground);
  Shot shot{.camera = yard.camera,
            .ground = yard.model.ground,
            .sun_world = sun.toward_world,
            .pixel_ratio = wanted.pixel_ratio};
  add_spot_of(shot.lights, session, yard);
  if (shows_sun(sun, yard.camera)) add_sun(shot.lights, sun, palette, yard.camera);
  yard.drawing.draw(shot, palette, yard.canvas);
}

}  // namespace yard
