// From a rendered photograph to spots, and how far each is from where it was drawn.
#pragma once

#include <cmath>
#include <optional>
#include <vector>

#include "photo/find_spots.h"
#include "support/photo_scene.h"

namespace photo_test {

/// What a photo gives, with all marks or with the corners alone.
struct Measured {
  photo::SeenMarks marks;
  photo::Rectification view;
  photo::FoundSpots found;
};

inline base::Result<Measured> measured(const support::PhotoScene& scene, bool corners_only = false,
                                       const photo::SpotSearch& search = {}) {
  const photo::Image image = support::photographed(scene);
  auto marks = photo::find_marks(image, scene.board, "photo");
  if (!marks) return marks.problems();
  Measured result{.marks = marks.value()};
  if (corners_only) {
    std::vector<photo::SeenMark> corners;
    for (const auto& mark : result.marks.marks) {
      if (mark.mark % 2 == 0) corners.push_back(mark);
    }
    result.marks.marks = corners;
  }
  auto view =
      photo::rectify(result.marks.marks, scene.board, image.size_px(), "photo", scene.focal_px);
  if (!view) return view.problems();
  result.view = view.value();
  const auto seen = photo::view_of_board(image, result.view, scene.board,
                                         photo::good_pitch_m(image, result.view, scene.board));
  result.found = photo::find_spots(photo::less_background(seen), scene.board, result.view, search);
  return result;
}

/// Root mean square per axis and largest distance of spots from the nearest drawn one.
struct Errors {
  std::size_t matched = 0;  ///< within half a diameter
  double sd_m = 0.0;
  double most_m = 0.0;
  double mean_chi2 = 0.0;  ///< squared error per axis over the claimed variance
};

inline Errors errors_of(const support::PhotoScene& scene, const photo::FoundSpots& found) {
  Errors errors;
  for (const auto& drawn : scene.spots) {
    const photo::Spot* nearest = nullptr;
    double least = 0.5 * drawn.diameter_m;
    for (const auto& spot : found.spots) {
      const double off = glm::distance(spot.place_m, drawn.place_m);
      if (off >= least) continue;
      least = off;
      nearest = &spot;
    }
    if (nearest == nullptr) continue;
    ++errors.matched;
    errors.sd_m += 0.5 * least * least;
    errors.mean_chi2 += 0.5 * least * least / (nearest->sigma_m * nearest->sigma_m);
    errors.most_m = std::max(errors.most_m, least);
  }
  if (errors.matched > 0) {
    errors.sd_m = std::sqrt(errors.sd_m / static_cast<double>(errors.matched));
    errors.mean_chi2 /= static_cast<double>(errors.matched);
  }
  return errors;
}

}  // namespace photo_test
