// A whole alignment played on a practice dish: photographs, identification, checks, turns, rounds.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "align/correct.h"
#include "naming/cover_codes.h"
#include "naming/covers.h"
#include "naming/schemes.h"
#include "naming/tilt_array.h"
#include "practice/hidden_dish.h"

namespace practice {

struct PracticeScheme {
  naming::Scheme scheme = naming::Scheme::defocus;
  double before_focus_m = 0.4;   ///< for defocus
  std::size_t first_groups = 1;  ///< photographs of the first round; later rounds take one
  std::optional<naming::CoverCode>
      code{};                   ///< for defocus: covers by a code in the first round instead
  double cell_pitch_m = 0.075;  ///< for the tilt array
  bool learns_gain = false;     ///< tilt array: comes back in two steps, the second by the first
  double camera_m = 30.0;       ///< look-back: the camera's distance along the axis
};

struct PracticeSettings {
  PracticeScheme scheme;
  int rounds = 3;
  HiddenErrors errors;
  naming::Hands hands;
  Camera camera;
  naming::IdentifySettings identify;
  /// Looks at every doubtful facet alone, one photograph each, before anything is turned.
  bool checks_doubts = true;
  align::CorrectionRequest correction;
};

struct PracticeRound {
  std::size_t photos = 0;
  std::size_t wrong = 0;   ///< facets that were corrected by another facet's spot
  std::size_t unseen = 0;  ///< facets without a spot in this round
  std::size_t facets_turned = 0;
  double turns = 0.0;    ///< told, all screws
  double rms_rad = 0.0;  ///< tilt left after it, both axes together
  double largest_rad = 0.0;
};

struct PracticeSession {
  double start_rms_rad = 0.0;
  std::vector<PracticeRound> rounds;
};

/// Everything that all trials share. Points into the dish, which must outlive it.
struct PracticeStage {
  PracticeDish practice;
  PracticeSettings settings;
  align::Sighting believed;               ///< board and light as they are thought to be
  align::Sighting truth;                  ///< with the errors nobody knows of
  naming::IdentifyTarget first;           ///< expected places before the first round
  naming::IdentifyTarget later;           ///< after it
  naming::Cover cover;                    ///< of the first round
  naming::CoverCodes codes;               ///< of the first round, when covers go by a code
  double diameter_m = 0.0;                ///< of a spot
  std::vector<naming::ArrayTurns> array;  ///< tilt array only
};

/// Problems: those of `practice_dish`, `naming::cells_of` and `naming::tilt_array`; numbers out of
/// range; more facets than a code has words.
base::Result<PracticeStage> set_stage(const dish::Dish& dish, const PracticeSettings& settings);

/// Plays one session. Same stage, seed and trial, same result. Each round: photographs,
/// identification, one more photograph of each doubtful facet alone, exact corrections
/// (`align::correct`) with its stop rule, told clicks; facets without a spot stay as they are.
PracticeSession play(const PracticeStage& stage, std::uint64_t seed, std::uint32_t trial);

}  // namespace practice
