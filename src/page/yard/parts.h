// Everything solid in the yard that is not a facet: receiver, secondary, blockers, screws, the post
// the dish stands on and the person beside it.
#pragma once

#include <string>
#include <vector>

#include "adjusters/screws.h"
#include "dish/dish.h"
#include "optics/secondary_mirror.h"
#include "page/yard/camera.h"
#include "page/yard/ground.h"
#include "page/yard/mesh.h"

namespace yard {

/// Solid parts that depend on the dish alone.
Solids make_parts(const dish::Dish& dish, const Ground& ground);

/// The secondary's reflecting face, a true surface of revolution, and a rim behind it.
void add_secondary(Solids& solids, const optics::SecondaryMirror& secondary, const Ground& ground);

/// Where one screw's head is seen, and what it is called.
struct ScrewPlace {
  base::Vec3 head_world;
  base::Vec3 outward_world;  ///< from the head toward the person who turns it
  std::string label;
};

/// The screws of one facet; empty when its mount is not complete.
std::vector<ScrewPlace> screw_places(const dish::Dish& dish, const dish::Facet& facet,
                                     const adjusters::FacePose& nominal, const Ground& ground);

/// Heads of the given screws, 14 mm across, with their shanks.
void add_screws(Solids& solids, const std::vector<ScrewPlace>& screws, bool lit);

/// Seen from steeply above or below a paper figure would lean, so it is left out.
bool shows_person(const Camera& camera);

/// The person, a flat silhouette that faces the eye's azimuth.
void add_person(Solids& solids, const Ground& ground, double azimuth_rad);

}  // namespace yard
