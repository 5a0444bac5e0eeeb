// The answer "practice": how an alignment would go, played many times on a dish with hidden errors.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "naming/schemes.h"
#include "practice/play.h"

namespace tasks {

inline constexpr std::uint64_t k_most_practice_trials = 100'000;
inline constexpr std::uint64_t k_most_practice_rounds = 20;

struct PracticeRequest {
  /// "advised" (the scheme that fits the dish and how wrong it stands), or a name of its own.
  std::string scheme = "advised";
  std::optional<std::size_t> groups;     ///< photographs of the first round; else as advised
  std::optional<double> before_focus_m;  ///< of the board; else as advised
  std::optional<double> cell_pitch_m;    ///< of a tilt array; else a third of the facets' own
  practice::Settings settings;           ///< its scheme is chosen by the above
  std::uint64_t seed = 1;
  std::uint32_t first_trial = 0;  ///< trials are numbered, so that parts can be played apart
  std::uint32_t trials = 20;
};

struct PracticeReply {
  practice::PlayedScheme scheme;
  naming::DefocusBoard board;  ///< where the spots fall, and how large it has to be
  std::string reason;          ///< why this scheme; empty when it was asked for
  std::uint64_t seed = 1;
  std::vector<practice::Session> sessions;  ///< in the order of the trials
};

/// "advised", "one-by-one", "defocus", "gray-covers", "half-open-covers", "tilt-array",
/// "tilt-array-learning", "look-back".
std::vector<std::string> practice_schemes();

/// The dish is practised on as it is drawn, without the displacements and rounds it holds.
/// Problems: those of naming::advise and practice::set_stage, an unknown scheme, "cancelled".
base::Result<PracticeReply> run(const dish::Dish& dish, const PracticeRequest& request,
                                const base::Progress& progress = {});

/// Puts replies to the parts of one request together, in the order of their trials; at least one.
PracticeReply joined(const std::vector<PracticeReply>& parts);

/// JSON: scheme, before_focus_mm, board_mm, groups, reason, trials, seed, start_mrad, rounds
/// [{round, photos, unseen, wrong, facets_turned, turns, rms_mrad, rms_95_mrad, largest_mrad}].
std::string json_text(const PracticeReply& reply);
std::string report_text(const PracticeReply& reply);
/// One row for each trial and round.
std::string csv_text(const PracticeReply& reply);

}  // namespace tasks
