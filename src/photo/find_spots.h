// Spots of light on the board: where, how large, how bright, and what makes each doubtful.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "photo/board_view.h"
#include "photo/moments.h"

namespace photo {

struct Spot {
  base::Vec2 place_m{0.0, 0.0};  ///< (right, up) from the board's middle
  double sigma_m = 0.0;          ///< per axis: marks, noise, and what the flags below add
  double longer_m = 0.0;         ///< D4sigma along the longer axis
  double shorter_m = 0.0;
  base::Vec2 longer_axis{1.0, 0.0};  ///< (right, up)
  double flux = 0.0;                 ///< light times area, full scale x m^2
  double flux_share = 0.0;           ///< of all spots
  bool merged = false;               ///< touched another and was split off, or has the flux of two
  bool saturated = false;   ///< more than 30 % at full scale: the middle of its area is given
  bool cut = false;         ///< reaches the board's edge or the photo's
  bool on_mark = false;     ///< lies over a printed mark, whose black hides a part
  bool rough_size = false;  ///< its width did not settle: from its outline
};

struct SpotSearch {
  /// Expected diameter; else the middle one of the blobs' is taken.
  std::optional<double> spot_m;
};

struct FoundSpots {
  std::vector<Spot> spots;  ///< from the top down, then from left to right
  double spot_m = 0.0;      ///< the expected diameter that was used
  double noise = 0.0;       ///< standard deviation of the difference, share of full scale
  double threshold = 0.0;   ///< share of full scale
  std::vector<std::string> notes;
};

/// Spots in a difference (see board_view): the difference smoothed by one cell; threshold the
/// larger of median + 6 sigma and a quarter of the level that the brightest half spot exceeds;
/// 8-connected blobs; those below a tenth of the expected area dropped; the rest split (parts_of);
/// middle and widths by moments_around, of merged ones by their parts, of saturated ones by area.
/// Uncertainties: the marks' (sigma_at), the noise's through the moments, 0.03 cells, and in
/// quadrature of the diameter: 2 % saturated, 5 % merged or rough, 10 % on a mark, 25 % cut (ours,
/// from rendered photos).
FoundSpots find_spots(const BoardView& difference, const Board& board, const Rectification& view,
                      const SpotSearch& search);

enum class Presence : unsigned char { absent, unclear, present };

/// How much of a spot's light a difference holds at a place: its integral within 0.75 diameters
/// over `usual_flux`, the median spot's. Present above 0.5, absent below 0.2, between them merged
/// or partly covered.
struct PresenceScore {
  double score = 0.0;
  Presence verdict = Presence::absent;
};
PresenceScore presence_at(const BoardView& difference, const base::Vec2& place_m, double spot_m,
                          double usual_flux);

}  // namespace photo
