// The answer "check": what is wrong or doubtful about a dish, also what only rays can tell.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/checks.h"
#include "dish/dish.h"

namespace tasks {

struct CheckRequest {
  std::uint64_t rays_per_facet = 256;  ///< for the doubts that need rays
};

struct CheckReply {
  std::string file;  ///< what was checked, as the person calls it
  std::vector<dish::Finding> errors;
  std::vector<dish::Finding> doubts;
  std::vector<std::string> notes;  ///< how the file was read

  [[nodiscard]] bool ok() const { return errors.empty(); }
};

/// Shares of the light that are worth a word. Common practice, no source.
inline constexpr double k_heavy_shading = 0.25;   ///< of the aperture's light
inline constexpr double k_heavy_blocking = 0.10;  ///< of the light the facets reflect
inline constexpr double k_low_intercept = 0.75;   ///< of the light in the receiver's plane

/// Everything dish::check finds; with no errors, also: facets that cannot be canted or held
/// (errors); screws beyond their travel, springs slack or solid, facets whose light misses the
/// receiver, heavy shading and blocking, little light within the receiver's edge (doubts).
/// Never fails but when cancelled.
base::Result<CheckReply> run(const dish::Dish& dish, const CheckRequest& request,
                             const base::Progress& progress = {});

/// The reply for a file that could not be read at all: its problems are the errors.
CheckReply unreadable(const std::string& file, const base::Problems& problems);

/// {"files": [{file, ok, errors [{place, text}], doubts [...], notes [...]}]}.
std::string json_text(const std::vector<CheckReply>& replies);

/// One heading for each file with its counts, then its doubts and notes. Errors are messages and
/// are told apart from results, so they are counted here and not repeated.
std::string report_text(const std::vector<CheckReply>& replies);

/// One row for each finding: file,kind,place,text.
std::string csv_text(const std::vector<CheckReply>& replies);

}  // namespace tasks
