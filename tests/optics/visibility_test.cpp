// Soft shadows: looking only where an edge may be near finds what looking everywhere finds.
#include "optics/visibility.h"

#include <cmath>
#include <span>

#include "light_scenes.h"
#include "optics/facet_nodes.h"
#include "support/demo_dishes.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using optics::FacetNode;

/// Sums over the smallest blocks, each looked at with everything that may stand in the way.
struct Everywhere {
  double share = 0.0;
  double landed = 0.0;
  double shaded = 0.0;
  double blocked = 0.0;
  Vec2 first{0.0, 0.0};
  double vv = 0.0;

  void look(optics::Visibility& visibility, const FacetNode& block, int depth) {
    if (depth > 0) {
      for (const FacetNode& quarter : optics::quarters(block)) look(visibility, quarter, depth - 1);
      return;
    }
    const auto fates = visibility.of(block, std::span(&block, 1), 0).fates;
    const double here = block.share * fates.landed();
    share += block.share;
    landed += here;
    shaded += block.share * fates.shaded;
    blocked += block.share * fates.blocked;
    first += here * block.uv;
    vv += here * (block.vv + block.uv.y * block.uv.y);
  }
};

/// Blocks of a ring are cut as if straight, so their spread is that of the ring's only nearly.
void check_same(optics::Visibility& visibility, const FacetNode& piece, int depth, bool is_ring) {
  Everywhere all;
  all.look(visibility, piece, depth);
  const optics::SeenPiece seen = visibility.of(piece, std::span(&piece, 1), depth);
  CHECK(all.share == doctest::Approx(piece.share).epsilon(1e-12));
  CHECK(std::abs(seen.fates.shaded - all.shaded / piece.share) < 1e-12);
  CHECK(std::abs(seen.fates.blocked - all.blocked / piece.share) < 1e-12);
  if (!(all.landed > 1e-6 * piece.share)) return;
  const Vec2 middle = all.first / all.landed;
  CHECK(glm::distance(seen.lit.uv, middle) < 1e-9);
  CHECK(std::abs(seen.lit.vv - (all.vv / all.landed - middle.y * middle.y)) <
        (is_ring ? 0.02 * piece.vv : 1e-9));
}

}  // namespace

TEST_CASE("a piece is seen as all its blocks are") {
  const dish::Dish dishes[] = {light_scenes::lattice(2, true),
                               light_scenes::lattice(2, false),
                               light_scenes::lattice_with_secondary(2),
                               support::larch_refuge(),
                               support::kiln_yard(),
                               support::orchard_dryer()};
  std::size_t partly = 0;
  for (const dish::Dish& dish : dishes) {
    const optics::Scene scene = light_scenes::scene_of(dish);
    optics::ConeKernels kernels(scene.sun_profile);
    for (std::size_t k = 0; k < scene.facets.size(); ++k) {
      optics::Visibility visibility(scene, k, kernels, optics::count_late_blockers(scene) > 0);
      if (visibility.is_clear()) continue;
      const optics::Edge& edge = scene.edges[scene.facets[k].edge];
      for (const FacetNode& piece : optics::facet_nodes(edge, 6)) {
        check_same(visibility, piece, 3, edge.kind == optics::Edge::Kind::ring);
        const double lost = 1.0 - visibility.of(piece, std::span(&piece, 1), 3).fates.landed();
        partly += lost > 0.01 && lost < 0.99 ? 1 : 0;
      }
    }
  }
  CHECK(partly > 50);
}

TEST_CASE("quarters of a node are the node") {
  const dish::Outline outlines[] = {dish::Hexagon{0.23}, dish::Rectangle{0.2, 0.3},
                                    dish::Polygon{{{0.2, 0.0}, {0.0, 0.3}, {-0.25, -0.1}}}};
  for (const dish::Outline& outline : outlines) {
    const optics::Edge edge = optics::make_edge(outline, "outline").value();
    for (const FacetNode& node : optics::facet_nodes(edge, 6)) {
      double share = 0.0;
      Vec2 mean{0.0, 0.0};
      double uu = 0.0;
      double cross = 0.0;
      for (const FacetNode& quarter : optics::quarters(node)) {
        share += quarter.share;
        mean += 0.25 * quarter.uv;
        uu += 0.25 * (quarter.uu + quarter.uv.x * quarter.uv.x);
        cross += 0.25 * (quarter.uv_cross + quarter.uv.x * quarter.uv.y);
        CHECK(optics::radius_of(quarter) == doctest::Approx(0.5 * optics::radius_of(node)));
        CHECK(glm::distance(quarter.uv, node.uv) < optics::radius_of(node));
      }
      CHECK(share == doctest::Approx(node.share).epsilon(1e-12));
      CHECK(glm::distance(mean, node.uv) < 1e-14);
      CHECK(uu == doctest::Approx(node.uu + node.uv.x * node.uv.x).epsilon(1e-12));
      CHECK(std::abs(cross - (node.uv_cross + node.uv.x * node.uv.y)) < 1e-15);
    }
  }
}
