// Pieces of one facet, their account and their splats.
#include "optics/facet_light.h"

#include <algorithm>
#include <cmath>

#include "optics/cone.h"
#include "optics/splat.h"
#include "optics/visibility.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// The cone of light is wider and more oblique from the rim of a wide facet than from its middle,
/// even where all chief rays meet in one point.
int least_for_width(const Scene& scene, const Cone& whole, double radius_m) {
  if (!whole.lands) return 1;
  const base::Pose& board = scene.receiver.dish_from_board;
  const Vec3 next =
      whole.chief.met_secondary
          ? whole.chief.secondary_point
          : base::point_to_outer(board, {whole.chief.board.x, whole.chief.board.y, 0.0});
  const double half_angle = radius_m / glm::distance(whole.chief.facet_point, next);
  return half_angle > 0.15
             ? static_cast<int>(std::ceil(std::min(400.0 * half_angle * half_angle, 3000.0)))
             : 1;
}

/// How many pieces a facet is cut into. A piece counts as a blurred ellipse,
/// which its image is not: where all pieces' images lie on each other that
/// shows when a piece's variance is a tenth of the blur's, where they lie side
/// by side when it is a third.
int wanted_pieces(const Scene& scene, const SceneFacet& facet, const Cone& whole,
                  const Canvas& canvas, double radius_m, int least_when_hidden) {
  const double cell = 2.0 * canvas.cell_m() * canvas.cell_m() / 12.0;
  const double blur = whole.sun.trace() + whole.errors.trace() + cell;
  const double ratio = whole.piece.trace() / std::max(blur, 1e-300);
  int least = least_for_width(scene, whole, radius_m);
  if (ratio > 0.03) least = std::max(least, 3);
  least = std::max(least, least_when_hidden);
  if (facet.form != k_no_form) least = 48;
  if (!whole.lands) least = 48;
  const double wanted = ratio < 1.5 ? 14.0 * ratio : 21.0 + 3.0 * (ratio - 1.5);
  return std::clamp(static_cast<int>(std::ceil(std::min(wanted, 3000.0))), least, 3000);
}

/// How finely shadows on a facet are looked at: the less a facet matters, the less finely.
struct ShadowGrain {
  int least_pieces = 1;
  int places = 0;
};

ShadowGrain grain_of(const Scene& scene, const Visibility& visibility) {
  if (visibility.is_clear()) return {};
  const int facets = static_cast<int>(scene.facets.size());
  return {std::clamp(200 / facets, 1, 6), std::clamp(8000 / facets, 20, 200)};
}

/// How often each of so many parts is quartered for about that many places in all.
int quarterings(int places, std::size_t parts) {
  int depth = 0;
  while (static_cast<int>(parts) << (2 * depth + 1) < places) ++depth;
  return depth;
}

/// Books a piece's watts; answers what lands on the plane.
double book(const Scene& scene, const SceneFacet& facet, const Cone& cone, const Fates& fates,
            Ledger& ledger) {
  const double caught = cone.watts;
  ledger.shading_W += fates.shaded * caught;
  const double lit = (1.0 - fates.shaded) * caught;
  ledger.facet_absorption_W += (1.0 - facet.reflectance) * lit;
  const double reflected = facet.reflectance * caught;
  ledger.blocking_W += fates.blocked * reflected;
  ledger.secondary_missed_W += fates.missed * reflected;
  double late = fates.blocked_late * reflected;
  double landed = fates.landed() * reflected;
  if (scene.secondary) {
    const double rho = scene.secondary->reflectance;
    ledger.secondary_absorption_W += (1.0 - rho) * (late + landed);
    late *= rho;
    landed *= rho;
  }
  ledger.blocking_W += late;
  if (!cone.lands) {
    ledger.spillage_W += landed;
    return 0.0;
  }
  return landed;
}

std::vector<Vec3> path_points(const Scene& scene, const Cone& cone) {
  const Vec3 start = cone.chief.facet_point;
  std::vector<Vec3> points;
  points.reserve(4);
  points.push_back(start + scene.sun * glm::distance(start, scene.receiver.dish_from_board.origin));
  points.push_back(start);
  if (cone.chief.met_secondary) points.push_back(cone.chief.secondary_point);
  if (cone.lands) {
    points.push_back(base::point_to_outer(scene.receiver.dish_from_board,
                                          {cone.chief.board.x, cone.chief.board.y, 0.0}));
  } else {
    points.push_back(points.back() + cone.chief.last_direction);
  }
  return points;
}

/// The secondary's rim (or the edge of its hole, where that is nearer), as it
/// cuts the cone: the place on the secondary and the place on the board both
/// follow the angle linearly.
std::optional<SplatEdge> rim_edge(const Scene& scene, const Cone& cone) {
  if (!scene.secondary || !cone.chief.met_secondary) return std::nullopt;
  const SecondaryMirror& mirror = *scene.secondary;
  const Vec3 local = base::point_to_inner(mirror.dish_from_secondary, cone.chief.secondary_point);
  const double radius = std::hypot(local.x, local.y);
  double room = mirror.rim_radius_m - radius;
  Vec2 outward = radius > 0.0 ? Vec2(local.x, local.y) / radius : Vec2(1.0, 0.0);
  if (mirror.hole_radius_m > 0.0 && radius - mirror.hole_radius_m < room) {
    room = radius - mirror.hole_radius_m;
    outward = -outward;
  }
  // Room = outward . S angle, board = M angle: the edge lies square to (S M^-1)' outward.
  const double determinant = glm::determinant(cone.board_from_angle);
  if (!(std::abs(determinant) > 1e-12)) return std::nullopt;
  const Vec2 square =
      outward * (cone.rim_from_angle * glm::inverse(cone.board_from_angle));  // row times matrix
  const double length = glm::length(square);
  if (!(length > 0.0)) return std::nullopt;
  return SplatEdge{square / length, room / length};
}

/// What the rim cuts off is missed, in place of what else would have become of it.
void miss(double share, Fates& fates) {
  const double reaching = 1.0 - fates.shaded - fates.blocked;
  fates.missed = share * reaching;
  fates.blocked_late *= 1.0 - share;
}

/// Sums over pieces.
struct Gathering {
  double weight = 0.0;
  Vec2 first{0.0, 0.0};
  Spread second;

  void add(double watts, const Vec2& centre, const Spread& spread) {
    weight += watts;
    first += watts * centre;
    second.xx += watts * (spread.xx + centre.x * centre.x);
    second.xy += watts * (spread.xy + centre.x * centre.y);
    second.yy += watts * (spread.yy + centre.y * centre.y);
  }
};

void close_account(const SceneReceiver& receiver, const Gathering& sum, FacetSpot& spot) {
  spot.plane_W = sum.weight;
  spot.receiver_W = std::clamp(spot.receiver_W, 0.0, spot.plane_W);
  if (sum.weight > 0.0) {
    spot.centroid_m = sum.first / sum.weight;
    const Vec2& c = spot.centroid_m;
    spot.covariance_m2 = {sum.second.xx / sum.weight - c.x * c.x,
                          sum.second.xy / sum.weight - c.x * c.y,
                          sum.second.yy / sum.weight - c.y * c.y};
  }
  spot.ledger.spillage_W += spot.plane_W - spot.receiver_W;
  spot.ledger.receiver_absorbed_W = receiver.absorptance * spot.receiver_W;
  spot.ledger.receiver_reflection_W = spot.receiver_W - spot.ledger.receiver_absorbed_W;
}

/// The Gaussian's share of the blur: errors, the cells' size, and the pieces' own.
double gaussian_share(const Cone& whole, const Canvas& canvas, std::size_t pieces) {
  const double gaussian = whole.errors.trace() + cell_spread(canvas).trace() +
                          whole.piece.trace() / static_cast<double>(pieces);
  return std::sqrt(gaussian / (gaussian + whole.sun.trace()));
}

}  // namespace

double caught_by(const Ledger& own) {
  return own.shading_W + own.facet_absorption_W + own.blocking_W + own.secondary_missed_W +
         own.secondary_absorption_W + own.spillage_W + own.receiver_reflection_W +
         own.receiver_absorbed_W;
}

FacetLight light_facet(const Lighting& lighting, std::size_t index, Tile& tile) {
  const Scene& scene = lighting.scene;
  const SceneFacet& facet = scene.facets[index];
  const Edge& edge = scene.edges[facet.edge];
  FacetLight light;
  FacetSpot& spot = light.spot;
  const FacetImage image = facet_image(scene, facet);
  FacetNode middle = facet_nodes(edge, 1).front();
  middle.uv = {0.0, 0.0};
  const Cone whole = cone_of(scene, facet, image, middle);
  spot.chief_lands = whole.lands;
  spot.chief_m = whole.chief.board;
  spot.chief_path = path_points(scene, whole);

  Visibility visibility(scene, index, lighting.kernels, !lighting.is_last_stretch_clear);
  const ShadowGrain grain = grain_of(scene, visibility);
  const auto nodes = facet_nodes(edge, wanted_pieces(scene, facet, whole, lighting.canvas,
                                                     edge.bounding_radius_m, grain.least_pieces));
  // A whole outline has no sides to be quartered by.
  const auto parts_of_whole =
      nodes.size() == 1 && !visibility.is_clear() ? facet_nodes(edge, 3) : nodes;
  const int depth = quarterings(grain.places, parts_of_whole.size());
  const ConeProfile profile =
      lighting.kernels.profile(gaussian_share(whole, lighting.canvas, nodes.size()));
  SplatLayer layer(lighting.canvas, scene.receiver, profile, tile);
  Gathering sum;
  for (const FacetNode& node : nodes) {
    const SeenPiece seen = visibility.of(
        node, nodes.size() == 1 ? std::span(parts_of_whole) : std::span(&node, 1), depth);
    const Cone cone = cone_of(scene, facet, image, seen.lit);
    Splat splat{cone.centre, cone.sun, 0.0, rim_edge(scene, cone)};
    splat.spread.add(cone.errors);
    splat.spread.add(cone.piece);
    Fates fates = seen.fates;
    const double missed = layer.share_cut_off(splat);
    miss(missed, fates);
    const double landed = book(scene, facet, cone, fates, spot.ledger);
    if (!(landed > 0.0)) continue;
    splat.watts = landed / (1.0 - missed);
    if (missed == 0.0) splat.edge.reset();
    layer.lay(splat);
    const SplatMoments moments = moments_of(splat);
    sum.add(landed, moments.centre, moments.spread);
  }
  spot.receiver_W = layer.finish();
  light.scale = layer.scale();
  close_account(scene.receiver, sum, spot);
  return light;
}

}  // namespace optics
