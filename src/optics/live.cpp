// Each facet's spot from cones about chief rays; the map and the figures as sums over spots.
#include "optics/live.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "optics/cone.h"
#include "optics/figures.h"
#include "optics/splat.h"
#include "optics/visibility.h"

namespace optics {
namespace {

using base::Vec2;
using base::Vec3;

/// How many cells of a facet are wanted: so many that a cell's image is some 0.6 of the blur, and
/// enough to show what is shaded.
int wanted_nodes(const Scene& scene, const SceneFacet& facet, bool is_partly_hidden) {
  const FacetNode middle{.share = 1.0};
  const Cone cone = cone_of(scene, facet, middle);
  const int least = is_partly_hidden ? 24 : 12;
  if (!cone.lands) return 24;
  // Image of the outline at 0.7 of its size against the blur.
  Spread image;
  const auto edge = boundary(scene.edges[facet.edge], 12);
  for (const Vec2& point : edge) {
    Path path;
    if (!land_chief(scene, facet, 0.7 * point, path)) continue;
    image.add_square(path.board - cone.chief.board);
  }
  const double blur = cone.sun.trace() + cone.errors.trace();
  const double finest = std::pow(1e-4 * scene.receiver.longer_side_m, 2);
  const double ratio2 = image.trace() / static_cast<double>(edge.size()) / std::max(blur, finest);
  return std::clamp(static_cast<int>(std::min(2.5 * ratio2, 2400.0)), least, 2400);
}

/// What one facet's evaluation gathers before it is a spot.
struct Gathering {
  std::vector<double> cells_W;
  double weight = 0.0;
  Vec2 first{0.0, 0.0};
  Spread second;
};

/// Books a cone's watts; answers what lands on the plane.
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
  double lost = fates.lost * reflected;
  double landed = fates.landed() * reflected;
  if (scene.secondary) {
    const double rho = scene.secondary->reflectance;
    ledger.secondary_absorption_W += (1.0 - rho) * (late + lost + landed);
    late *= rho;
    lost *= rho;
    landed *= rho;
  }
  ledger.blocking_W += late;
  ledger.spillage_W += lost;
  if (!cone.lands) {
    ledger.spillage_W += landed;
    return 0.0;
  }
  return landed;
}

std::vector<Vec3> path_points(const Scene& scene, const Cone& cone) {
  const Vec3 start = cone.chief.facet_point;
  std::vector<Vec3> points{
      start + scene.sun * glm::distance(start, scene.receiver.dish_from_board.origin), start};
  if (cone.chief.met_secondary) points.push_back(cone.chief.secondary_point);
  if (cone.lands) {
    points.push_back(base::point_to_outer(scene.receiver.dish_from_board,
                                          {cone.chief.board.x, cone.chief.board.y, 0.0}));
  } else {
    points.push_back(points.back() + cone.chief.last_direction);
  }
  return points;
}

FacetSpot facet_spot(const Scene& scene, const Canvas& canvas, std::size_t index) {
  const SceneFacet& facet = scene.facets[index];
  FacetSpot spot;
  const Cone middle = cone_of(scene, facet, {.share = 1.0});
  spot.chief_lands = middle.lands;
  spot.chief_m = middle.chief.board;
  spot.chief_path = path_points(scene, middle);
  // One profile serves all cells: the sun's share of the blur, the cell's own size left out.
  const double blur = middle.sun.trace() + middle.errors.trace();
  const double gaussian = blur > 0.0 ? std::sqrt(middle.errors.trace() / blur) : 0.0;
  const ConeKernels::Profile profile = ConeKernels::get().profile(gaussian);

  const Visibility visibility = find_visibility(scene, index);
  const bool is_partly_hidden = !visibility.pieces.empty();
  Gathering sum;
  sum.cells_W.assign(static_cast<std::size_t>(canvas.cells * canvas.cells), 0.0);
  for (const FacetNode& node :
       facet_nodes(scene.edges[facet.edge], wanted_nodes(scene, facet, is_partly_hidden))) {
    const Cone cone = cone_of(scene, facet, node);
    const double landed = book(scene, facet, cone, visibility.at(node.uv), spot.ledger);
    if (!(landed > 0.0)) continue;
    Splat splat{cone.centre, cone.sun, landed};
    splat.spread.add(cone.errors);
    splat.spread.add(cone.piece);
    spot.receiver_W +=
        lay(canvas, scene.receiver, profile, splat, sum.cells_W, spot.outside).receiver_W;
    sum.weight += landed;
    sum.first += landed * splat.centre;
    sum.second.xx += landed * (splat.spread.xx + splat.centre.x * splat.centre.x);
    sum.second.xy += landed * (splat.spread.xy + splat.centre.x * splat.centre.y);
    sum.second.yy += landed * (splat.spread.yy + splat.centre.y * splat.centre.y);
  }
  spot.plane_W = sum.weight;
  if (sum.weight > 0.0) {
    spot.centroid_m = sum.first / sum.weight;
    const Vec2& c = spot.centroid_m;
    spot.covariance_m2 = {sum.second.xx / sum.weight - c.x * c.x,
                          sum.second.xy / sum.weight - c.x * c.y,
                          sum.second.yy / sum.weight - c.y * c.y};
  }
  spot.ledger.spillage_W += spot.plane_W - spot.receiver_W;
  spot.ledger.receiver_absorbed_W = scene.receiver.absorptance * spot.receiver_W;
  spot.ledger.receiver_reflection_W = spot.receiver_W - spot.ledger.receiver_absorbed_W;
  spot.cells_W.assign(sum.cells_W.begin(), sum.cells_W.end());
  return spot;
}

double caught_by(const Ledger& own) {
  return own.shading_W + own.facet_absorption_W + own.blocking_W + own.secondary_missed_W +
         own.secondary_absorption_W + own.spillage_W + own.receiver_reflection_W +
         own.receiver_absorbed_W;
}

FacetFigures facet_figures(const SceneFacet& facet, const FacetSpot& spot) {
  FacetFigures figures;
  figures.id = facet.id;
  figures.power_W = spot.receiver_W;
  figures.centroid_m = spot.centroid_m;
  figures.rms_radius_m = std::sqrt(std::max(spot.covariance_m2[0] + spot.covariance_m2[2], 0.0));
  const double caught = caught_by(spot.ledger);
  const double lit = caught - spot.ledger.shading_W;
  const double reflected = lit * facet.reflectance;
  figures.lit_fraction = caught > 0.0 && reflected > 0.0
                             ? lit / caught * (1.0 - spot.ledger.blocking_W / reflected)
                             : 0.0;
  return figures;
}

/// Adds a spot's accounts and moments to the whole.
void add_spot(const FacetSpot& spot, TraceResult& whole, Spread& second) {
  Ledger& to = whole.ledger;
  const Ledger& own = spot.ledger;
  to.shading_W += own.shading_W;
  to.facet_absorption_W += own.facet_absorption_W;
  to.blocking_W += own.blocking_W;
  to.secondary_missed_W += own.secondary_missed_W;
  to.secondary_absorption_W += own.secondary_absorption_W;
  to.spillage_W += own.spillage_W;
  whole.power_plane_W += spot.plane_W;
  whole.power_receiver_W += spot.receiver_W;
  whole.centroid_m += spot.plane_W * spot.centroid_m;
  const Vec2& c = spot.centroid_m;
  second.xx += spot.plane_W * (spot.covariance_m2[0] + c.x * c.x);
  second.yy += spot.plane_W * (spot.covariance_m2[2] + c.y * c.y);
}

/// The whole from the spots, in the dish's order.
void add_up(LiveState& state) {
  const Scene& scene = *state.scene;
  const int cells = state.settings.map_cells;
  PlaneLight light{.cells = cells,
                   .width_m = map_width(state.settings.map_width_m, scene.receiver.longer_side_m),
                   .watts = {},
                   .half_watts = {},
                   .outside = {}};
  light.watts.assign(static_cast<std::size_t>(cells) * static_cast<std::size_t>(cells), 0.0);
  TraceResult whole;
  Spread second;
  double caught = 0.0;
  for (std::size_t k = 0; k < state.spots.size(); ++k) {
    const FacetSpot& spot = state.spots[k];
    add_spot(spot, whole, second);
    caught += caught_by(spot.ledger);
    for (std::size_t cell = 0; cell < light.watts.size(); ++cell) {
      light.watts[cell] += static_cast<double>(spot.cells_W[cell]);
    }
    light.outside.insert(light.outside.end(), spot.outside.begin(), spot.outside.end());
    whole.facets.push_back(facet_figures(scene.facets[k], spot));
  }
  if (whole.power_plane_W > 0.0) {
    whole.centroid_m /= whole.power_plane_W;
    const Vec2& c = whole.centroid_m;
    whole.rms_m = {std::sqrt(std::max(second.xx / whole.power_plane_W - c.x * c.x, 0.0)),
                   std::sqrt(std::max(second.yy / whole.power_plane_W - c.y * c.y, 0.0))};
  }
  whole.map.columns = cells;
  whole.map.rows = cells;
  whole.map.size_m = Vec2(light.width_m);
  const double cell = light.width_m / cells;
  whole.map.flux_W_m2.reserve(light.watts.size());
  for (const double watts : light.watts) whole.map.flux_W_m2.push_back(watts / (cell * cell));
  finish_figures(scene, light, caught, whole);
  state.figures = std::move(whole);
}

base::Result<std::shared_ptr<const Scene>> scene_of(const dish::Dish& dish,
                                                    const LiveSettings& settings) {
  if (settings.map_cells < 8 || settings.map_cells > 512) {
    return base::Problem{"map_cells", fmt::format("{}", settings.map_cells), "8 to 512"};
  }
  auto scene = make_scene(dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!scene) return scene.problems();
  return std::shared_ptr<const Scene>(std::make_shared<Scene>(std::move(scene).value()));
}

Canvas canvas_of(const Scene& scene, const LiveSettings& settings) {
  return make_canvas(scene.receiver, settings.map_cells,
                     map_width(settings.map_width_m, scene.receiver.longer_side_m));
}

bool lists(const Scene& scene, const Span& span, std::size_t facet) {
  const auto first = scene.candidates.begin() + span.first;
  return std::find(first, first + span.count, static_cast<std::uint32_t>(facet)) !=
         first + span.count;
}

bool can_be_hidden_by(const Scene& scene, std::size_t facet, std::size_t other) {
  const SceneFacet& one = scene.facets[facet];
  return lists(scene, one.shaders, other) || lists(scene, one.blockers, other);
}

}  // namespace

base::Result<LiveState> evaluate(const dish::Dish& dish, const LiveSettings& settings) {
  const auto scene = scene_of(dish, settings);
  if (!scene) return scene.problems();
  LiveState state;
  state.settings = settings;
  state.scene = scene.value();
  state.dish_from_board = state.scene->receiver.dish_from_board;
  const Canvas canvas = canvas_of(*state.scene, settings);
  state.spots.reserve(dish.facets.size());
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    state.spots.push_back(facet_spot(*state.scene, canvas, k));
  }
  add_up(state);
  return state;
}

base::Result<LiveState> reevaluate(LiveState before, const dish::Dish& dish, std::size_t changed) {
  BASE_CHECK(changed < dish.facets.size(), "the changed facet is one of the dish");
  if (!before.scene || before.spots.size() != dish.facets.size()) {
    return evaluate(dish, before.settings);
  }
  const auto scene = scene_of(dish, before.settings);
  if (!scene) return scene.problems();
  const auto old = before.scene;
  before.scene = scene.value();
  before.dish_from_board = before.scene->receiver.dish_from_board;
  // After a secondary a facet may stand in anybody's light.
  const bool is_clear =
      !touches_last_stretch(*old, changed) && !touches_last_stretch(*before.scene, changed);
  const Canvas canvas = canvas_of(*before.scene, before.settings);
  for (std::size_t k = 0; k < before.spots.size(); ++k) {
    if (k == changed || !is_clear || can_be_hidden_by(*old, k, changed) ||
        can_be_hidden_by(*before.scene, k, changed)) {
      before.spots[k] = facet_spot(*before.scene, canvas, k);
    }
  }
  add_up(before);
  return before;
}

}  // namespace optics
