// Even places over the outline, chief rays of the sun.
#include "optics/picture_rays.h"

#include <cmath>

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// Even points by the plastic number's two-dimensional sequence.
/// Source: Roberts, "The unreasonable effectiveness of quasirandom sequences", 2018.
Vec2 even_point(int k) {
  constexpr double a = 0.7548776662466927;
  constexpr double b = 0.5698402909980532;
  return {std::fmod(0.5 + a * k, 1.0), std::fmod(0.5 + b * k, 1.0)};
}

}  // namespace

std::vector<PictureRay> picture_rays(const Scene& scene, std::size_t index, int count) {
  const SceneFacet& facet = scene.facets[index];
  const Edge& edge = scene.edges[facet.edge];
  std::vector<PictureRay> rays;
  for (int k = 0; k < count; ++k) {
    const Vec2 x = even_point(k);
    const Vec2 uv = k == 0 && is_inside(edge, 0.0, 0.0) ? Vec2(0.0) : sample(edge, x.x, x.y);
    const FacetPoint start = facet_point(scene, facet, uv);
    const Path path = follow(scene, facet, start, scene.sun, {}, Tests{});
    PictureRay ray{.end = path.end, .points = {}};
    const double far = glm::distance(path.facet_point, scene.receiver.dish_from_board.origin);
    ray.points = {path.facet_point + far * scene.sun, path.facet_point};
    if (path.met_secondary) ray.points.push_back(path.secondary_point);
    if (path.end == End::landed) {
      ray.points.push_back(
          base::point_to_outer(scene.receiver.dish_from_board, {path.board.x, path.board.y, 0.0}));
    }
    rays.push_back(std::move(ray));
  }
  return rays;
}

}  // namespace optics
