// Rendered photographs of a target board: a pinhole camera with a little lens distortion, uneven
// light, spots of known place and size, noise and 8-bit steps. The same bytes on every machine.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "photo/board_marks.h"
#include "photo/find_marks.h"
#include "photo/image.h"

namespace support {

struct DrawnSpot {
  base::Vec2 place_m{0.0, 0.0};
  double diameter_m = 0.023;  ///< of a disc; 4 sigma of a Gaussian
  double level = 0.27;        ///< added light in its middle, share of full scale
  bool is_gaussian = false;
  double edge_m = 0.002;  ///< a disc's rim falls off over this width
  double stretch = 1.0;   ///< longer over shorter diameter, along (cos, sin) of turn
  double turn_rad = 0.0;
};

struct PhotoScene {
  int width = 1280;
  int height = 960;
  double focal_px = 922.0;
  double k1 = 0.0;
  photo::Board board;
  base::Vec3 camera_m{0.0, 0.0, 0.66};  ///< from the board's middle: right, up, toward the viewer
  base::Vec3 looks_at_m{0.0, 0.0, 0.0};
  base::Vec3 up{0.0, 1.0, 0.0};
  bool mirrored = false;
  bool has_marks = true;
  std::vector<bool> hidden_marks;       ///< true for a mark that is covered
  double white = 0.06;                  ///< the board's light, share of full scale
  double ink = 0.07;                    ///< of white
  double behind = 0.03;                 ///< light beside the board
  base::Vec2 gradient_per_m{0.0, 0.0};  ///< relative change of the light on the board
  double vignette = 0.0;                ///< loss at a distance of one focal length from the middle
  double exposure = 1.0;
  double blur_px = 0.6;
  double noise = 0.001;       ///< standard deviation at no light, share of full scale
  double shot_noise = 0.003;  ///< at full scale; grows with the root of the light
  std::uint32_t seed = 1;
  int samples = 3;       ///< across a pixel
  bool clutter = false;  ///< discs, rings and squares beside and on the board
  std::vector<DrawnSpot> spots;
};

/// 8-bit sRGB grey, row by row.
std::vector<std::uint8_t> render(const PhotoScene& scene);

/// The same as this project's image, not reduced.
photo::Image photographed(const PhotoScene& scene);

/// Where a place on the board is in the picture, px.
base::Vec2 seen_at(const PhotoScene& scene, const base::Vec2& board_m);

/// Thirty-six spots in three rings of a hexagonal grid without its middle, each moved by up to
/// `stray_m`, along each axis.
std::vector<DrawnSpot> ring_spots(double pitch_m, double stray_m, std::uint32_t seed,
                                  const DrawnSpot& like = {});

/// A number in (-1, 1) and one of a standard normal distribution, by counters.
double seeded_even(std::uint32_t seed, std::uint32_t a, std::uint32_t b);
double seeded_normal(std::uint32_t seed, std::uint32_t a, std::uint32_t b);

}  // namespace support
