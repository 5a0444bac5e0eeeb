// Light of all facets, and of one that moved.
#include "optics/live.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"
#include "optics/cone.h"
#include "optics/figures.h"
#include "optics/scene.h"
#include "optics/visibility.h"

namespace optics {
namespace {

using base::Vec2;

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

/// The figures of the whole, but for the facets' own.
void add_up(LiveState& state) {
  const LiveSums::Amounts sum = state.sums.total();
  TraceResult& whole = state.figures;
  whole.ledger = {};
  whole.ledger.shading_W = sum[LiveSums::shading];
  whole.ledger.facet_absorption_W = sum[LiveSums::facet_absorption];
  whole.ledger.blocking_W = sum[LiveSums::blocking];
  whole.ledger.secondary_missed_W = sum[LiveSums::secondary_missed];
  whole.ledger.secondary_absorption_W = sum[LiveSums::secondary_absorption];
  whole.ledger.spillage_W = sum[LiveSums::spillage];
  whole.power_plane_W = sum[LiveSums::plane];
  whole.power_receiver_W = sum[LiveSums::receiver];
  whole.centroid_m = {0.0, 0.0};
  whole.rms_m = {0.0, 0.0};
  whole.radius_m = {0.0, 0.0, 0.0};
  if (whole.power_plane_W > 0.0) {
    const double plane = whole.power_plane_W;
    const Vec2 c = Vec2(sum[LiveSums::plane_x], sum[LiveSums::plane_y]) / plane;
    whole.centroid_m = c;
    whole.rms_m = {std::sqrt(std::max(sum[LiveSums::plane_xx] / plane - c.x * c.x, 0.0)),
                   std::sqrt(std::max(sum[LiveSums::plane_yy] / plane - c.y * c.y, 0.0))};
  }
  PlaneLight light = state.counts.in_watts();
  while (light.cells < state.settings.map_cells) {
    light.watts = in_half_cells(light.watts, light.cells);
    light.cells *= 2;
  }
  const double cell = light.width_m / light.cells;
  whole.map.columns = light.cells;
  whole.map.rows = light.cells;
  whole.map.size_m = Vec2(state.canvas.width_m);
  whole.map.flux_W_m2.resize(light.watts.size());
  for (std::size_t k = 0; k < light.watts.size(); ++k) {
    whole.map.flux_W_m2[k] = light.watts[k] / (cell * cell);
  }
  finish_figures(*state.scene, light, sum[LiveSums::caught], whole);
}

Lighting lighting_of(const LiveState& state) {
  return {*state.scene, state.canvas, *state.kernels, state.late_blockers == 0};
}

struct LitFacet {
  FacetSpot spot;
  CountedTile light;
};

LitFacet lit_facet(const LiveState& state, std::size_t facet, Tile& tile) {
  FacetLight light = light_facet(lighting_of(state), facet, tile);
  return {std::move(light.spot), state.counts.counted(tile, light.scale)};
}

/// How many cells a side the light is laid on: the map's, or half or a quarter of them where the
/// blur of most facets is wide enough for the map to be made from those. A facet that moves hardly
/// changes what holds for most.
int laid_cells(const Scene& scene, int map_cells, double width_m) {
  constexpr double least_deviation = 2.5;  // in cells
  const std::size_t stride = 1 + scene.facets.size() / 64;
  std::vector<double> deviations;
  for (std::size_t k = 0; k < scene.facets.size(); k += stride) {
    const Cone cone = cone_of(scene, scene.facets[k], {}, {.share = 1.0});
    Spread spread = cone.sun;
    spread.add(cone.errors);
    if (cone.lands) deviations.push_back(std::sqrt(std::max(spread.least(), 0.0)));
  }
  if (deviations.empty()) return map_cells;
  const auto quarter = deviations.begin() + static_cast<std::ptrdiff_t>(deviations.size() / 4);
  std::nth_element(deviations.begin(), quarter, deviations.end());
  int cells = map_cells;
  while (cells % 8 == 0 && cells >= 64 && *quarter > least_deviation * 2.0 * width_m / cells) {
    cells /= 2;
  }
  return cells;
}

/// The most that any facet can send, whichever way it faces.
double most_facet_W(const Scene& scene) {
  double most = 0.0;
  for (const SceneFacet& facet : scene.facets) {
    // Steep glass has more area than its outline.
    most = std::max(most, 2.0 * scene.edges[facet.edge].area_m2);
  }
  return scene.dni_W_m2 * most;
}

base::Result<std::shared_ptr<Scene>> scene_of(const dish::Dish& dish,
                                              const LiveSettings& settings) {
  if (settings.map_cells < 8 || settings.map_cells > 512 || settings.map_cells % 4 != 0) {
    return base::Problem{"map_cells", fmt::format("{}", settings.map_cells),
                         "8 to 512, a multiple of four"};
  }
  auto scene = make_scene(dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!scene) return scene.problems();
  return std::make_shared<Scene>(std::move(scene).value());
}

/// Takes the light of facets out of the map, as the scene stands.
void take_out(LiveState& state, const std::vector<std::uint32_t>& facets) {
  Tile tile(state.canvas);
  for (const std::uint32_t facet : facets) {
    const auto kept = std::find_if(state.kept.begin(), state.kept.end(),
                                   [&](const auto& one) { return one.facet == facet; });
    state.counts.add(kept != state.kept.end() ? kept->light : lit_facet(state, facet, tile).light,
                     true);
  }
}

/// Lights facets, puts their light into the map and keeps it apart.
void put_in(LiveState& state, const std::vector<std::uint32_t>& facets) {
  constexpr std::size_t most_kept = 64;
  Tile tile(state.canvas);
  state.kept.clear();
  for (const std::uint32_t facet : facets) {
    LitFacet lit = lit_facet(state, facet, tile);
    state.counts.add(lit.light, false);
    state.sums.change(facet, lit.spot);
    state.figures.facets[facet] = facet_figures(state.scene->facets[facet], lit.spot);
    state.spots[facet] = std::move(lit.spot);
    if (state.kept.size() < most_kept) state.kept.push_back({facet, std::move(lit.light)});
  }
}

/// The state's scene to be changed: a copy when somebody else looks at it too.
std::shared_ptr<Scene> own_scene(LiveState& state) {
  if (state.scene.use_count() > 1) state.scene = std::make_shared<Scene>(*state.scene);
  return std::const_pointer_cast<Scene>(state.scene);
}

}  // namespace

base::Result<LiveState> evaluate(const dish::Dish& dish, const LiveSettings& settings,
                                 const LiveState* before) {
  const auto scene = scene_of(dish, settings);
  if (!scene) return scene.problems();
  return evaluate_scene(scene.value(), settings, before);
}

LiveState evaluate_scene(std::shared_ptr<const Scene> scene, const LiveSettings& settings,
                         const LiveState* before) {
  LiveState state;
  state.settings = settings;
  state.scene = std::move(scene);
  const Scene& made = *state.scene;
  state.dish_from_board = made.receiver.dish_from_board;
  const double width = map_width(settings.map_width_m, made.receiver.longer_side_m);
  state.canvas = make_canvas(made.receiver, laid_cells(made, settings.map_cells, width), width);
  state.counts = LightCounts(state.canvas, most_facet_W(made));
  state.kernels = before != nullptr && before->kernels->are_of(made.sun_profile)
                      ? before->kernels
                      : std::make_shared<ConeKernels>(made.sun_profile);
  state.late_blockers = count_late_blockers(made);
  Tile tile(state.canvas);
  state.spots.reserve(made.facets.size());
  state.figures.facets.reserve(made.facets.size());
  for (std::size_t k = 0; k < made.facets.size(); ++k) {
    LitFacet lit = lit_facet(state, k, tile);
    state.counts.add(lit.light, false);
    state.spots.push_back(std::move(lit.spot));
    state.figures.facets.push_back(facet_figures(made.facets[k], state.spots[k]));
  }
  state.sums = LiveSums(state.spots);
  add_up(state);
  return state;
}

base::Result<LiveState> reevaluate(LiveState before, const dish::Dish& dish, std::size_t changed) {
  BASE_CHECK(changed < dish.facets.size(), "the changed facet is one of the dish");
  if (!before.scene || before.spots.size() != dish.facets.size()) {
    return evaluate(dish, before.settings, before.scene ? &before : nullptr);
  }
  LiveState state = std::move(before);
  const std::shared_ptr<Scene> scene = own_scene(state);
  const bool was_late = touches_last_stretch(*scene, changed);
  auto made = move_facet(*scene, dish, changed);
  if (!made) return made.problems();
  if (was_late || touches_last_stretch(*scene, changed)) {
    // After a secondary it may stand in anybody's light.
    return evaluate_scene(scene, state.settings, &state);
  }
  SceneMove move = std::move(made).value();
  std::vector<std::uint32_t> facets = move.touched;
  facets.push_back(static_cast<std::uint32_t>(changed));
  exchange(*scene, changed, move);
  take_out(state, facets);
  exchange(*scene, changed, move);
  put_in(state, facets);
  add_up(state);
  return state;
}

std::vector<double> facet_map_W(const LiveState& state, std::size_t facet) {
  Tile tile(state.canvas);
  const FacetLight light = light_facet(lighting_of(state), facet, tile);
  std::vector<double> cells(tile.cells_W.begin(), tile.cells_W.end());
  for (double& cell : cells) cell *= light.scale;
  for (int count = state.canvas.cells; count < state.figures.map.columns; count *= 2) {
    cells = in_half_cells(cells, count);
  }
  return cells;
}

}  // namespace optics
