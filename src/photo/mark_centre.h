// The middle of a mark to a small part of a pixel.
#pragma once

#include "photo/image.h"
#include "photo/mark_candidates.h"

namespace photo {

/// In pixels of the reduced picture.
struct MarkCentre {
  base::Vec2 place{0.0, 0.0};
  double sigma = 0.0;        ///< per axis
  bool by_darkness = false;  ///< else the middle of the outline, where the light was too uneven
};

/// Mean place of a mark's darkness, 1 - light / white, where white is a plane through the white rim
/// around it: light that is uneven by a factor does not move it. The uncertainty follows from the
/// scatter on the rim (var x = sum (x - mean)^2 sigma^2 / (sum darkness)^2), with 0.03 px beside
/// it for what pixels and lenses do (common practice, no source).
MarkCentre centre_of(const Image& image, const Candidate& candidate);

}  // namespace photo
