// Rendered photographs of a dish in whose facets a screen's fringes are seen: every ray of the
// camera is reflected at the mirror it meets and followed to the screen. Nothing here knows how
// fringes are read.
#pragma once

#include <cstdint>
#include <vector>

#include "base/vec.h"
#include "photo/image.h"

namespace support {

/// A hexagonal mirror, part of a sphere that is hollow toward its normal.
struct DrawnMirror {
  base::Vec3 centre_m{0.0};
  base::Vec3 normal{0.0, 0.0, 1.0};
  double across_flats_m = 0.23;
  double radius_m = 0.0;  ///< of curvature; 0: flat
  double reflectance = 0.9;
};

struct LookBackScene {
  std::vector<DrawnMirror> mirrors;
  base::Vec3 camera_m{0.0, 0.0, 30.0};
  base::Vec3 looks_at_m{0.0, 0.0, 0.0};
  double roll_turns = 0.0;  ///< of the camera about its axis
  double focal_px = 9000.0;
  int width = 640;
  int height = 640;
  // The screen: faces -z, its right is -x of the dish, its up +y.
  base::Vec3 screen_m{0.0, 0.0, 2.0};
  double screen_width_m = 0.34;
  double screen_height_m = 0.19;
  double screen_light = 0.5;  ///< its full light in the photo at reflectance 1, share of full scale
  double surroundings = 0.05;  ///< light of what else is seen in the mirrors
  double frame = 0.04;         ///< light between the mirrors
  double daylight = 0.02;      ///< scattered by the mirrors and the lens, added to all
  // The camera's faults.
  double vignette = 0.3;      ///< loss at the corner of the frame
  double bend = 1.0;          ///< light goes to this power before the sRGB curve
  double noise = 0.002;       ///< standard deviation at no light, share of full scale
  double shot_noise = 0.006;  ///< at full scale; grows with the root of the light
  double flicker = 0.0;       ///< relative change of exposure from photo to photo
  std::uint32_t seed = 1;
};

/// The eight photos, 8-bit sRGB grey, row by row.
std::vector<std::vector<std::uint8_t>> render(const LookBackScene& scene);

/// The same as this project's images.
std::vector<photo::Image> photographed(const LookBackScene& scene);

/// Where a point of the dish's frame is in the photos, px.
base::Vec2 seen_at(const LookBackScene& scene, const base::Vec3& point_m);

/// The place of the screen that the middle of a mirror shows, (right, up) as someone sees it who
/// faces the screen.
base::Vec2 shown_by(const LookBackScene& scene, const DrawnMirror& mirror);

}  // namespace support
