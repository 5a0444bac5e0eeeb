// The answer "spots": photographs of the target board to spots on it. Which facet each belongs to
// is a further step that starts from this reply.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "photo/find_marks.h"
#include "photo/find_spots.h"
#include "photo/image.h"

namespace tasks {

struct SpotsPhoto {
  std::string name;
  photo::Image image;
  std::vector<photo::ClickedMark> clicked;  ///< empty: marks are searched for
};

struct SpotsRequest {
  std::vector<SpotsPhoto> photos;  ///< at most k_most_photos
  photo::Board board;
  std::optional<std::size_t> reference;  ///< a photo of the covered dish; no spots of its own
  std::optional<double> spot_m;          ///< expected diameter
  /// The photos after the first are frames of a film from the same place: of them only how much of
  /// each of the first one's spots is left is told. Not together with a reference.
  bool follows = false;
};

inline constexpr std::size_t k_most_photos = 128;

/// What one photo gave; problems instead of spots when it cannot be used.
struct PhotoSpots {
  std::string name;
  photo::Rectification view;
  photo::FoundSpots found;
  std::vector<double> left;  ///< of a frame: share of each spot's light, in the first one's order
  std::vector<std::string> notes;
  base::Problems problems;
};

struct SpotsReply {
  photo::Board board;
  std::vector<PhotoSpots> photos;  ///< without the reference
};

/// A photo whose marks are not seen, of the size of the reference, is taken as seen from where the
/// reference was (a camera on a stand), with a note: spots that are exposed well leave a board
/// dark. Problems: those of the board, of the reference, of the photos when none can be used,
/// a frame of another size than the first, "cancelled".
base::Result<SpotsReply> run(const SpotsRequest& request, const base::Progress& progress = {});

/// JSON: board {width_mm, height_mm, mark_mm}, photos [{name, k1, k1_is_fitted, marks [{mark, x_px,
/// y_px, residual_px}], spot_mm, noise, spots [{right_mm, up_mm, sigma_mm, diameter_mm [longer,
/// shorter], longer_axis [right, up], flux_share, flags}], notes, problems}]. A frame that follows
/// has name, left, notes and problems.
std::string json_text(const SpotsReply& reply);

std::string report_text(const SpotsReply& reply);

/// The columns of a spots file, all photos' spots one after the other; the facet is left empty.
std::string csv_text(const SpotsReply& reply);

}  // namespace tasks
