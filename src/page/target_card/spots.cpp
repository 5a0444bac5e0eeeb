// Spots are ellipses of two standard deviations about their middle.
#include "page/target_card/spots.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "page/look/theme.h"
#include "page/platform/item_table.h"
#include "page/widgets/words.h"

namespace target_card {
namespace {

constexpr double k_sigmas = 2.0;
constexpr std::size_t k_few = 12;     // so many spots are always named
constexpr std::size_t k_named = 150;  // so many are named once zoomed in
constexpr double k_zoom_to_name = 3.0;
constexpr std::size_t k_outlined = 400;  // more are shown as points
constexpr std::size_t k_most_middles = 2000;
constexpr float k_near_px = 9.0f;
constexpr int k_corners = 36;

// Half axes of an ellipse and the direction of the first.
struct Axes {
  double along_m;
  double across_m;
  base::Vec2 direction;
};

Axes axes_of(const std::array<double, 3>& covariance_m2) {
  const auto [xx, xy, yy] = covariance_m2;
  const double mean = 0.5 * (xx + yy);
  const double spread = std::hypot(0.5 * (xx - yy), xy);
  const double angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
  return {std::sqrt(std::max(mean + spread, 0.0)),
          std::sqrt(std::max(mean - spread, 0.0)),
          {std::cos(angle), std::sin(angle)}};
}

bool has_light(const optics::FacetSpot& spot) { return spot.plane_W > 0.0; }

// How many standard deviations a point of the plane is away from a spot's middle.
double deviations(const optics::FacetSpot& spot, const base::Vec2& point_m) {
  const Axes axes = axes_of(spot.covariance_m2);
  const base::Vec2 from = point_m - spot.centroid_m;
  const double along = glm::dot(from, axes.direction);
  const double across = axes.direction.x * from.y - axes.direction.y * from.x;
  constexpr double k_least_m = 1e-6;
  return std::hypot(along / std::max(axes.along_m, k_least_m),
                    across / std::max(axes.across_m, k_least_m));
}

void outline(ImDrawList& draw, const Plate& plate, const optics::FacetSpot& spot,
             const Stroke& stroke) {
  const auto corners = spot_outline(plate, spot, k_sigmas);
  const int count = static_cast<int>(corners.size());
  // Over bright light only a dark border keeps a bright line in sight.
  if (stroke.width > 1.0f) {
    draw.AddPolyline(corners.data(), count, IM_COL32(0, 0, 0, 130), ImDrawFlags_Closed,
                     stroke.width + 2.0f);
  }
  draw.AddPolyline(corners.data(), count, stroke.colour, ImDrawFlags_Closed, stroke.width);
}

void name(ImDrawList& draw, const Plate& plate, const optics::FacetSpot& spot,
          const dish::FacetId& facet, ImU32 colour) {
  const ImVec2 middle = plate.on_screen(spot.centroid_m);
  const ImVec2 size = widgets::text_size(facet.text, look::FontSize::small);
  widgets::text_centred_at(draw, {middle.x, middle.y - 0.5f * size.y}, colour, facet.text,
                           look::FontSize::small);
}

// The chosen spot: its outline, its middle, and its name beside it.
void stand_out(ImDrawList& draw, const Plate& plate, const optics::FacetSpot& spot,
               const dish::FacetId& facet, const Stroke& stroke) {
  outline(draw, plate, spot, stroke);
  const ImVec2 middle = plate.on_screen(spot.centroid_m);
  draw.AddCircleFilled(middle, 2.5f, stroke.colour, 12);
  float right = middle.x;
  for (const ImVec2& corner : spot_outline(plate, spot, k_sigmas))
    right = std::max(right, corner.x);
  right = std::min(right, plate.place.right() - 46.0f);
  // The name stays on the plate, above the words along its foot.
  const float top = std::clamp(middle.y - 9.0f, plate.place.y + 4.0f, plate.place.bottom() - 46.0f);
  const ImVec2 at{right + 6.0f, top};
  const ImVec2 size = widgets::text_size(facet.text);
  draw.AddRectFilled({at.x - 3.0f, at.y - 1.0f}, {at.x + size.x + 3.0f, at.y + size.y + 1.0f},
                     IM_COL32(0, 0, 0, 150), 3.0f);
  widgets::text_at(draw, at, stroke.colour, facet.text);
}

std::optional<std::size_t> index_of(const dish::Dish& dish,
                                    const std::optional<dish::FacetId>& facet) {
  if (!facet.has_value()) return std::nullopt;
  const std::size_t index = dish::find_facet(dish, *facet);
  return index == dish::k_no_facet ? std::nullopt : std::optional<std::size_t>(index);
}

// Of very many spots only middles, and only so many that the drawing holds them.
void draw_middles(ImDrawList& draw, const Plate& plate,
                  const std::vector<optics::FacetSpot>& spots) {
  const ImU32 colour = look::faded(look::theme_of(look::ThemeName::lamp).ink, 0.3f);
  const std::size_t stride = 1 + spots.size() / k_most_middles;
  for (std::size_t i = 0; i < spots.size(); i += stride) {
    if (!has_light(spots[i])) continue;
    const ImVec2 middle = plate.on_screen(spots[i].centroid_m);
    draw.AddRectFilled({middle.x - 0.75f, middle.y - 0.75f}, {middle.x + 0.75f, middle.y + 0.75f},
                       colour);
  }
}

void draw_outlines(ImDrawList& draw, const Plate& plate, const session::Session& session,
                   double zoom) {
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const auto& spots = session.live.value->spots;
  const auto& facets = session.document.dish.facets;
  const std::size_t count = std::min(spots.size(), facets.size());
  const bool named = count <= k_few || (count <= k_named && zoom >= k_zoom_to_name);
  // The more spots lie over each other, the fainter each line.
  const float opacity =
      std::clamp(1.9f / std::sqrt(static_cast<float>(count) + 1.0f), 0.12f, 0.55f);
  for (std::size_t i = 0; i < count; ++i) {
    if (!has_light(spots[i])) continue;
    outline(draw, plate, spots[i], {look::faded(lamp.ink, opacity), 1.0f});
    if (named) name(draw, plate, spots[i], facets[i].id, look::faded(lamp.ink, 0.85f));
  }
}

}  // namespace

std::vector<ImVec2> spot_outline(const Plate& plate, const optics::FacetSpot& spot, double sigmas) {
  const Axes axes = axes_of(spot.covariance_m2);
  const base::Vec2 side{-axes.direction.y, axes.direction.x};
  std::vector<ImVec2> corners;
  corners.reserve(k_corners);
  for (int i = 0; i < k_corners; ++i) {
    const double angle = 2.0 * base::k_pi * i / k_corners;
    corners.push_back(plate.on_screen(spot.centroid_m +
                                      sigmas * (std::cos(angle) * axes.along_m * axes.direction +
                                                std::sin(angle) * axes.across_m * side)));
  }
  return corners;
}

void draw_spots(ImDrawList& draw, const Plate& plate, const session::Session& session,
                double zoom) {
  if (!session.live.value.has_value()) return;
  const look::Theme lamp = look::theme_of(look::ThemeName::lamp);
  const auto& spots = session.live.value->spots;
  const auto& facets = session.document.dish.facets;
  const std::size_t count = std::min(spots.size(), facets.size());
  if (count > k_outlined) {
    draw_middles(draw, plate, spots);
  } else {
    draw_outlines(draw, plate, session, zoom);
  }
  const auto hovered = index_of(session.document.dish, session.selection.hovered);
  const auto selected = index_of(session.document.dish, session.selection.selected);
  if (hovered.has_value() && hovered != selected && *hovered < count &&
      has_light(spots[*hovered])) {
    stand_out(draw, plate, spots[*hovered], facets[*hovered].id, {lamp.ink, 1.5f});
  }
  if (selected.has_value() && *selected < count && has_light(spots[*selected])) {
    stand_out(draw, plate, spots[*selected], facets[*selected].id, {lamp.copper, 2.0f});
    const ImVec2 middle = plate.on_screen(spots[*selected].centroid_m);
    platform::note_item("spot of the selected facet", middle.x - 3.0f, middle.y - 3.0f, 6.0f, 6.0f);
  }
}

std::optional<dish::FacetId> spot_under(const Plate& plate, const session::Session& session,
                                        const ImVec2& pointer) {
  if (!session.live.value.has_value()) return std::nullopt;
  const auto& spots = session.live.value->spots;
  const auto& facets = session.document.dish.facets;
  const base::Vec2 point_m = plate.on_plane(pointer);
  std::optional<dish::FacetId> nearest;
  double nearest_px = 1e9;
  for (std::size_t i = 0; i < std::min(spots.size(), facets.size()); ++i) {
    if (!has_light(spots[i])) continue;
    const double distance = plate.px_per_m() * glm::length(point_m - spots[i].centroid_m);
    const bool under = distance < k_near_px || deviations(spots[i], point_m) < k_sigmas;
    if (!under || distance >= nearest_px) continue;
    nearest = facets[i].id;
    nearest_px = distance;
  }
  return nearest;
}

}  // namespace target_card
