// A dish made ready for light: flat arrays of facets as built, mirrors, receiver and obstacles in
// the dish frame, and for each facet the short list of what can stand in its light.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"
#include "optics/aperture.h"
#include "optics/coating.h"
#include "optics/facet_form.h"
#include "optics/facet_grid.h"
#include "optics/obstacle.h"
#include "optics/outline.h"
#include "optics/quadric.h"
#include "optics/secondary_mirror.h"
#include "optics/sun_profile.h"

namespace optics {

/// A stretch of Scene::candidates.
struct Span {
  std::uint32_t first = 0;
  std::uint32_t count = 0;
};

inline constexpr std::uint32_t k_no_form = 0xffffffff;

struct SceneFacet {
  dish::FacetId id;
  base::Pose dish_from_facet;
  Quadric surface;
  std::uint32_t edge = 0;          ///< index into Scene::edges
  std::uint32_t form = k_no_form;  ///< index into Scene::forms; k_no_form: just as its quadric
  double reflectance = 1.0;        ///< at the incidence of its middle
  double slope_error_rad = 0.0;
  double specularity_error_rad = 0.0;
  Sphere bounds;  ///< of its glass, dish frame
  Span shaders;   ///< what can stand between it and the sun
  Span blockers;  ///< what can stand between it and the next element
};

struct SceneReceiver {
  base::Pose dish_from_board;  ///< x right, y up as seen facing the lit side, z lit normal
  bool is_round = true;
  base::Vec2 half_m{0.0, 0.0};
  double absorptance = 1.0;
  double area_m2 = 0.0;
  double longer_side_m = 0.0;
};

/// Candidates are numbers: below facets.size() a facet; then obstacles; then the secondary.
struct Scene {
  std::vector<SceneFacet> facets;
  std::vector<Edge> edges;                 ///< one for each facet type in use
  std::vector<MirrorReflectance> mirrors;  ///< one for each edge
  std::vector<FacetForm> forms;            ///< of the types, then of facets with a map of their own
  std::vector<Obstacle> obstacles;         ///< the receiver's plate first when it shades
  bool receiver_shades = false;            ///< then obstacles[0] is the receiver
  std::optional<SecondaryMirror> secondary;
  Sphere secondary_bounds;
  SceneReceiver receiver;
  std::vector<std::uint32_t> candidates;
  std::size_t packed_candidates = 0;  ///< how many there were when none were left behind
  bool is_culled = true;
  FacetGrid grid;
  double beam_reach_m = 0.0;  ///< along x or y: no facet lists another that is farther off
  bool has_blocking = true;   ///< false: nothing stops light after the secondary either

  base::Vec3 sun{0.0, 0.0, 1.0};  ///< unit, to the middle of the sun
  base::Mat3 dish_from_sun{1.0};  ///< z to the sun
  SunProfile sun_profile;
  double dni_W_m2 = 0.0;
  double gross_aperture_m2 = 0.0;  ///< convex hull of all outlines along the dish axis
  double mirror_area_m2 = 0.0;     ///< outlines projected along the dish axis
  Aperture aperture;

  [[nodiscard]] std::uint32_t obstacle_code(std::size_t k) const {
    return static_cast<std::uint32_t>(facets.size() + k);
  }
  [[nodiscard]] std::uint32_t secondary_code() const {
    return static_cast<std::uint32_t>(facets.size() + obstacles.size());
  }
};

struct SceneOptions {
  base::Vec2 tracking_error_rad{0.0, 0.0};
  bool cull = true;      ///< false: every facet lists everything, for tests of the culling
  bool shading = true;   ///< false: nothing stops light before the facets
  bool blocking = true;  ///< false: nothing stops light after them
};

/// Problems, all in one go and each with its place: no facets; a facet without its type, facing
/// away from the sun, with no outline or a surface that ends within it; a secondary that is
/// degenerate or faces away from the facets; a receiver without size or direction, or that no
/// mirror can light.
base::Result<Scene> make_scene(const dish::Dish& dish, const SceneOptions& options);

/// What a facet's move changed in the lists of a scene.
struct SceneMove {
  std::vector<std::uint32_t> touched;      ///< other facets whose light it may stand in, before or
                                           ///< after, in rising order
  std::vector<std::array<Span, 2>> lists;  ///< of these as they were: shaders, blockers
  SceneFacet facet;                        ///< as it was
};

/// Brings the scene up to date after facet `moved` of its dish took another pose, and nothing else
/// changed: the same scene as a new one would be. Problems as above; the scene is then of no use.
base::Result<SceneMove> move_facet(Scene& scene, const dish::Dish& dish, std::size_t moved);

/// Puts the facets and lists as they were before the last move, and keeps what they are now in the
/// move: doing it twice changes nothing.
void exchange(Scene& scene, std::size_t moved, SceneMove& move);

/// Unit direction to the sun when the dish points (x, y) away from it: tilted from +z toward
/// (x, y) by the vector's length, exactly.
base::Vec3 sun_direction(const base::Vec2& tracking_error_rad);

/// x right, y up, z lit normal, at the receiver's centre.
base::Pose receiver_pose(const dish::Receiver& receiver);

/// Whether candidate `code` stops the ray between two distances.
bool is_stopped_by(const Scene& scene, std::uint32_t code, const base::Vec3& origin,
                   const base::Vec3& direction, double least, double most);

}  // namespace optics
