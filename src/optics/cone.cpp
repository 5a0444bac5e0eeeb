// Maps about chief rays.
#include "optics/cone.h"

#include <cmath>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

constexpr Tests k_no_tests{.shading = false, .blocking = false, .rim = false};

/// Axes square to a ray: in the plane of incidence, and across it.
struct RayAxes {
  Vec3 in_plane;
  Vec3 across;
};

RayAxes axes_about(const Vec3& ray, const Vec3& normal) {
  const Vec3 across = glm::cross(ray, normal);
  const double length = glm::length(across);
  if (length < 1e-9) {
    const base::Mat3 frame = base::frame_of_normal(ray);
    return {frame[0], frame[1]};
  }
  return {glm::cross(across, ray) / length, across / length};
}

Vec2 on_board(const base::Pose& board, const Vec3& way) {
  return {glm::dot(way, board.x()), glm::dot(way, board.y())};
}

/// How the landing moves when a ray of length `length` is turned along an axis
/// square to it: by `slope` per radian, and on average by `bend` per squared radian of variance.
struct Turning {
  Vec2 slope{0.0, 0.0};
  Vec2 bend{0.0, 0.0};
};

/// Straight to the plane: the landing of d + t a is o + l (d + t a) / (1 + t q), q = a.n / d.n.
Turning turning_to_plane(const base::Pose& board, const Vec3& ray, double length,
                         const Vec3& axis) {
  const double q = glm::dot(axis, board.z()) / glm::dot(ray, board.z());
  const Vec2 slope = on_board(board, length * (axis - q * ray));
  return {slope, -q * slope};
}

/// By way of the secondary: from a pair of rays to both sides. Also moves the place on it.
struct Pair {
  bool lands = false;
  Turning turning;
  Vec2 rim_slope{0.0, 0.0};
};

Pair pair_by_secondary(const Scene& scene, const SceneFacet& facet, const Path& chief,
                       const Vec3& leaving, const Vec3& axis, double angle) {
  const auto turned = [&](double way) {
    const Vec3 direction = base::unit(leaving + way * angle * axis);
    return go_on(scene, facet, chief.facet_point, direction, {}, k_no_tests);
  };
  const Path plus = turned(1.0);
  const Path minus = turned(-1.0);
  if (plus.end != End::landed || minus.end != End::landed) return {};
  const Vec3 moved = plus.secondary_point - minus.secondary_point;
  const base::Pose& mirror = scene.secondary->dish_from_secondary;
  return {true,
          {0.5 / angle * (plus.board - minus.board),
           (0.5 * (plus.board + minus.board) - chief.board) / base::square(angle)},
          0.5 / angle * Vec2(glm::dot(moved, mirror.x()), glm::dot(moved, mirror.y()))};
}

double last_stretch(const Scene& scene, const Cone& cone, const Vec3& from) {
  const base::Pose& board = scene.receiver.dish_from_board;
  return glm::dot(board.origin - from, board.z()) / glm::dot(cone.chief.last_direction, board.z());
}

/// Spread by the secondary's own errors, over the last stretch.
void add_secondary_errors(const Scene& scene, Cone& cone) {
  const SecondaryMirror& mirror = *scene.secondary;
  const double slope2 = 4.0 * base::square(mirror.slope_error_rad);
  const double spec2 = base::square(mirror.specularity_error_rad);
  if (slope2 + spec2 == 0.0) return;
  const Vec3 ray = cone.chief.last_direction;
  const Vec3 came = base::unit(cone.chief.secondary_point - cone.chief.facet_point);
  const Vec3 normal = base::unit(ray - came);
  const RayAxes axes = axes_about(ray, normal);
  const double length = last_stretch(scene, cone, cone.chief.secondary_point);
  const auto add = [&](const Vec3& axis, double variance) {
    const Turning turning = turning_to_plane(scene.receiver.dish_from_board, ray, length, axis);
    cone.errors.add_square(turning.slope, variance);
    cone.centre += variance * turning.bend;
  };
  add(axes.in_plane, slope2 + spec2);
  add(axes.across, slope2 * base::square(glm::dot(ray, normal)) + spec2);
}

/// The reflected ray turned along one axis, by the sun and by errors.
void add_angle(const Scene& scene, const SceneFacet& facet, const Vec3& leaving, const Vec3& axis,
               int column, double error2, Cone& cone) {
  const double sun2 = scene.sun_profile.variance;
  Turning turning;
  if (scene.secondary) {
    const double deviation = std::max(std::sqrt(sun2 + error2), 1e-6);
    const Pair pair = pair_by_secondary(scene, facet, cone.chief, leaving, axis, deviation);
    if (!pair.lands) return;
    turning = pair.turning;
    cone.rim_from_angle[column] = pair.rim_slope;
  } else {
    turning = turning_to_plane(scene.receiver.dish_from_board, leaving,
                               last_stretch(scene, cone, cone.chief.facet_point), axis);
  }
  cone.board_from_angle[column] = turning.slope;
  cone.centre += (sun2 + error2) * turning.bend;
  cone.sun.add_square(turning.slope, sun2);
  cone.errors.add_square(turning.slope, error2);
}

}  // namespace

bool land_chief(const Scene& scene, const SceneFacet& facet, const Vec2& uv, Path& path) {
  const FacetPoint start = facet_point(scene, facet, uv);
  if (!std::isfinite(start.point.z)) return false;
  path = follow(scene, facet, start, scene.sun, {}, k_no_tests);
  return path.end == End::landed;
}

FacetImage facet_image(const Scene& scene, const SceneFacet& facet) {
  const double h = 0.6 * scene.edges[facet.edge].bounding_radius_m;
  Vec2 at[3][3];
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) {
      if (i + j == 2 && i != j) continue;  // seven places do
      Path path;
      if (!land_chief(scene, facet, {h * (i - 1), h * (j - 1)}, path)) return {};
      at[i][j] = path.board;
    }
  }
  const double h2 = h * h;
  FacetImage image{.lands = true};
  image.du = (at[2][1] - at[0][1]) / (2.0 * h);
  image.dv = (at[1][2] - at[1][0]) / (2.0 * h);
  image.duu = (at[2][1] - 2.0 * at[1][1] + at[0][1]) / h2;
  image.dvv = (at[1][2] - 2.0 * at[1][1] + at[1][0]) / h2;
  image.duv = (at[2][2] - at[2][1] - at[1][2] + 2.0 * at[1][1] - at[0][1] - at[1][0] + at[0][0]) /
              (2.0 * h2);
  return image;
}

Cone cone_of(const Scene& scene, const SceneFacet& facet, const FacetImage& image,
             const FacetNode& node) {
  Cone cone;
  const FacetPoint start = facet_point(scene, facet, node.uv);
  const Vec3 normal = base::direction_to_outer(facet.dish_from_facet, start.normal);
  const double cosine = glm::dot(normal, scene.sun);
  if (!(cosine > 0.0)) return cone;
  cone.watts =
      scene.dni_W_m2 * scene.edges[facet.edge].area_m2 * node.share * cosine / start.normal.z;
  cone.chief = follow(scene, facet, start, scene.sun, {}, k_no_tests);
  if (cone.chief.end != End::landed) return cone;
  cone.lands = true;
  cone.centre = cone.chief.board;

  const Vec3 leaving = base::reflect(-scene.sun, normal);
  const RayAxes axes = axes_about(leaving, normal);
  const double slope2 = 4.0 * base::square(facet.slope_error_rad);
  const double spec2 = base::square(facet.specularity_error_rad);
  add_angle(scene, facet, leaving, axes.in_plane, 0, slope2 + spec2, cone);
  add_angle(scene, facet, leaving, axes.across, 1, slope2 * base::square(cosine) + spec2, cone);
  if (scene.secondary) add_secondary_errors(scene, cone);

  // The piece's image: its slopes here, and how its bend moves the middle.
  const Vec2 du = image.du + node.uv.x * image.duu + node.uv.y * image.duv;
  const Vec2 dv = image.dv + node.uv.x * image.duv + node.uv.y * image.dvv;
  cone.piece.xx = du.x * du.x * node.uu + 2.0 * du.x * dv.x * node.uv_cross + dv.x * dv.x * node.vv;
  cone.piece.yy = du.y * du.y * node.uu + 2.0 * du.y * dv.y * node.uv_cross + dv.y * dv.y * node.vv;
  cone.piece.xy =
      du.x * du.y * node.uu + (du.x * dv.y + dv.x * du.y) * node.uv_cross + dv.x * dv.y * node.vv;
  cone.centre += 0.5 * (node.uu * image.duu + node.vv * image.dvv) + node.uv_cross * image.duv;
  return cone;
}

}  // namespace optics
