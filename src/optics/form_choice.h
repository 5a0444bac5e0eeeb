// Which surface each facet should have for the place and aim the layout gives it, and what simpler
// choices would give: one form for all, a few moulds, each its own.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "base/vec.h"
#include "dish/dish.h"
#include "dish/surface.h"

namespace optics {

/// The best surfaces of one facet, as it stands at its nominal pose under a sun on the axis.
struct BestForm {
  dish::FacetId id;
  base::Vec3 focus_m{0.0};        ///< where its light should gather after it: the aim, or its image
                                  ///< in the secondary; dish frame
  double distance_m = 0.0;        ///< from the facet's centre to there
  double incidence_rad = 0.0;     ///< of the sun at the centre
  dish::OffAxisParaboloid piece;  ///< of the paraboloid with that focus and its axis to the sun
  double radius_along_m = 0.0;    ///< of that piece at the centre, in the plane of incidence
  double radius_across_m = 0.0;   ///< and square to it
  double sphere_radius_m = 0.0;   ///< the sphere with the least rms spot at the aim
  double sphere_rms_m = 0.0;      ///< that rms radius, from the aim, of a point sun's light
  double piece_rms_m = 0.0;       ///< the same of the piece
  double flat_rms_m = 0.0;        ///< the same of a flat mirror
  double sphere_sag_m = 0.0;      ///< height of its highest edge point over its centre
  double piece_sag_m = 0.0;
};

enum class FormKind : std::uint8_t {
  as_is,              ///< as the dish has it now
  flat,               ///< all flat
  common_sphere,      ///< one sphere for all
  common_paraboloid,  ///< one paraboloid about the facet's own centre for all
  groups,             ///< spheres from a few moulds
  own_sphere,         ///< each the sphere that suits its place
  own_piece,          ///< each its own piece of a paraboloid
};
const char* key_of(FormKind kind);
const char* words_of(FormKind kind);

struct FormOption {
  FormKind kind = FormKind::flat;
  int moulds = 0;                ///< different surfaces needed (per outline); 0 when flat
  std::vector<double> radius_m;  ///< of the moulds, at the centre; empty for flat and pieces
  double spot_rms_m = 0.0;       ///< rms radius of the whole spot, sun and errors included
  double spot_r90_m = 0.0;       ///< holds 90 % of the light in the receiver's plane
  double receiver_W = 0.0;
  double peak_concentration = 0.0;
  double least_sag_m = 0.0;  ///< at the edge, over all facets
  double most_sag_m = 0.0;
  std::vector<dish::Surface> surface;  ///< of each facet, in the dish's order
  std::vector<int> mould;              ///< number of each facet's mould, from 0
};

struct FormSettings {
  int most_groups = 4;  ///< groups of 2 to so many moulds are tried, 1..12
  base::Vec2 tracking_error_rad{0.0, 0.0};
};

struct FormChoice {
  std::vector<BestForm> facets;     ///< in the dish's order
  std::vector<FormOption> options;  ///< as it is, flat, sphere, paraboloid, groups, own, own piece
  std::size_t recommended = 0;      ///< fewest moulds within 1 % of the most watts
};

/// Solves every facet's form at its nominal pose (its screws at nominal) and judges each choice by
/// the noise-free evaluation of the whole dish with all its errors. Problems: those of make_scene,
/// a facet whose aim no mirror can focus on; "cancelled".
base::Result<FormChoice> choose_forms(const dish::Dish& dish, const FormSettings& settings,
                                      const base::Progress& progress = {});

/// The best forms alone.
base::Result<std::vector<BestForm>> best_forms(const dish::Dish& dish,
                                               const base::Progress& progress = {});

/// The paraboloid piece that focuses a sun on the axis at `focus_m`, for a facet at its pose.
/// With p the distance and i the incidence: focal length p cos^2 i, off-axis distance p sin 2i.
/// Source: polar equation of the parabola, p = 2f / (1 + cos 2i).
struct PiecePlace {
  dish::OffAxisParaboloid piece;
  double incidence_rad = 0.0;
  double distance_m = 0.0;
};
PiecePlace piece_for(const base::Pose& dish_from_facet, const base::Vec3& focus_m);

/// The dish with these surfaces, one for each facet: a type for each different pair of type and
/// surface, the first of a type keeping its name, others named "hexagon 2", "hexagon 3", ...
dish::Dish with_surfaces(const dish::Dish& dish, const std::vector<dish::Surface>& surfaces);

/// Splits values into at most `groups` runs so that the sum of weight (value - centre)^2 is least,
/// exactly (dynamic programming over the sorted values). Answers each value's group, numbered by
/// rising centre, and the centres.
struct Grouping {
  std::vector<int> group;
  std::vector<double> centre;
  double cost = 0.0;
};
Grouping group_values(const std::vector<double>& values, const std::vector<double>& weights,
                      int groups);

}  // namespace optics
