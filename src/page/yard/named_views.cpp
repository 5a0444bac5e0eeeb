// Fitting is exact: for each side of the frustum the farthest point decides.
#include "page/yard/named_views.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/units.h"
#include "page/yard/ribbons.h"

namespace yard {
namespace {

struct Direction {
  double azimuth_rad;
  double elevation_rad;
};

Direction direction_of(NamedView view) {
  switch (view) {
    case NamedView::from_sun:
      return {0.0, k_shown_elevation_rad};
    case NamedView::from_behind:
      return {base::k_pi, -k_shown_elevation_rad};
    case NamedView::from_side:
      return {0.5 * base::k_pi, 0.02};
    case NamedView::three_quarter:
      break;
  }
  return {0.78, 0.20};
}

// One axis of the fit: how far the eye must stand off, and where its centre line runs.
struct AxisFit {
  double low = -std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void add(double across, double toward_eye, double tangent_low, double tangent_high) {
    high = std::max(high, across + tangent_high * toward_eye);
    low = std::max(low, -across + tangent_low * toward_eye);
  }
};

}  // namespace

const std::array<ViewChoice, 4>& view_choices() {
  static const std::array<ViewChoice, 4> choices{{
      {NamedView::three_quarter, "Three-quarter", "The whole dish from beside the beam."},
      {NamedView::from_sun, "From the sun", "Face on, as the sun sees it: +x is to the right."},
      {NamedView::from_behind, "From behind",
       "As the person at the screws sees it: left and right are swapped against the sun's view."},
      {NamedView::from_side, "From the side", "Across the axis: the rays and where they meet."},
  }};
  return choices;
}

std::vector<base::Vec3> points_to_show(const optics::Scene& scene,
                                       const std::vector<base::Vec3>& struts_dish,
                                       const Ground& ground, NamedView view) {
  std::vector<base::Vec3> points;
  for (const optics::SceneFacet& facet : scene.facets) {
    const base::Vec3& centre = facet.dish_from_facet.origin;
    const base::Vec2 across(centre);
    const double radius = glm::length(across);
    const double edge = scene.edges[facet.edge].bounding_radius_m;
    const base::Vec2 outward = radius > 0.0 ? across * (1.0 + edge / radius) : across;
    points.push_back(
        base::point_to_outer(ground.world_from_dish, {outward.x, outward.y, centre.z}));
  }
  const base::Vec3& receiver = scene.receiver.dish_from_board.origin;
  points.push_back(base::point_to_outer(ground.world_from_dish, receiver));
  if (scene.secondary.has_value()) {
    const optics::SecondaryMirror& secondary = *scene.secondary;
    for (const base::Vec2& side :
         {base::Vec2(1, 0), base::Vec2(0, 1), base::Vec2(-1, 0), base::Vec2(0, -1)}) {
      const base::Vec2 rim = secondary.rim_radius_m * side;
      points.push_back(base::point_to_outer(
          ground.world_from_dish,
          base::point_to_outer(secondary.dish_from_secondary, {rim.x, rim.y, 0.0})));
    }
  }
  for (const base::Vec3& end : struts_dish) {
    points.push_back(base::point_to_outer(ground.world_from_dish, end));
  }
  if (view == NamedView::three_quarter || view == NamedView::from_side) {
    for (const double side : {-0.27, 0.27}) {
      points.push_back(ground.person_world + base::Vec3(side, side, 0.0));
      points.push_back(ground.person_world + base::Vec3(side, side, k_person_height_m));
    }
    points.emplace_back(0.0, 0.0, 0.0);
    points.push_back(sun_place(scene, ground).disc_world);
  }
  return points;
}

Camera fit(const std::vector<base::Vec3>& points_world, double azimuth_rad, double elevation_rad,
           const Picture& picture, const Margins& margins) {
  Camera camera{.azimuth_rad = azimuth_rad, .elevation_rad = elevation_rad};
  const Eye eye = eye_of(camera);
  const base::Vec2 tangents = half_tangents(picture);
  const double left = tangents.x * (1.0 - 2.0 * margins.left / picture.width);
  const double right = tangents.x * (1.0 - 2.0 * margins.right / picture.width);
  const double top = tangents.y * (1.0 - 2.0 * margins.top / picture.height);
  const double bottom = tangents.y * (1.0 - 2.0 * margins.bottom / picture.height);
  AxisFit across;
  AxisFit upward;
  for (const base::Vec3& point : points_world) {
    const double toward_eye = glm::dot(point, eye.back);
    across.add(glm::dot(point, eye.right), toward_eye, left, right);
    upward.add(glm::dot(point, eye.up), toward_eye, bottom, top);
  }
  // The eye stands at (c, e): c + tangent e must clear the farthest point on each side.
  const double stand = std::max((across.high + across.low) / (left + right),
                                (upward.high + upward.low) / (top + bottom));
  const double centre_x = 0.5 * (across.high - across.low + (left - right) * stand);
  const double centre_y = 0.5 * (upward.high - upward.low + (bottom - top) * stand);
  double middle = 0.0;
  for (const base::Vec3& point : points_world) middle += glm::dot(point, eye.back);
  middle /= std::max<double>(1.0, static_cast<double>(points_world.size()));
  camera.target = centre_x * eye.right + centre_y * eye.up + middle * eye.back;
  camera.distance_m = std::max(stand - middle, 0.1);
  return camera;
}

Camera named_camera(const std::vector<base::Vec3>& points_world, NamedView view,
                    const Picture& picture, const Margins& margins) {
  const Direction direction = direction_of(view);
  return fit(points_world, direction.azimuth_rad, direction.elevation_rad, picture, margins);
}

}  // namespace yard
