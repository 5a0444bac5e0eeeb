// What is played: scheme, errors and habits, made ready once for all trials.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "align/correct.h"
#include "naming/cover_codes.h"
#include "naming/covers.h"
#include "naming/schemes.h"
#include "naming/tilt_array.h"
#include "practice/camera.h"
#include "practice/hidden_dish.h"

namespace practice {

/// A scheme with what it has to be told.
struct PlayedScheme {
  naming::Scheme scheme = naming::Scheme::defocus;
  double before_focus_m = 0.4;   ///< for defocus
  std::size_t first_groups = 1;  ///< photographs of the first round; later rounds take one
  /// For defocus: covers by a code in the first round instead.
  std::optional<naming::CoverCode> code{};
  double cell_pitch_m = 0.075;  ///< for the tilt array
  bool learns_gain = false;     ///< tilt array: comes back in two steps, the second by the first
  double camera_m = 30.0;       ///< look-back: the camera's distance along the axis
};

struct Settings {
  PlayedScheme scheme;
  int rounds = 3;
  HiddenErrors errors;
  naming::Hands hands;
  Camera camera;
  naming::IdentifySettings identify;
  /// Looks at every doubtful facet alone, one photograph each, before anything is turned.
  bool checks_doubts = true;
  align::CorrectionRequest correction;
};

/// Everything that all trials share. Points into the dish, which must outlive it.
struct Stage {
  DishSetup practice;
  Settings settings;
  align::Sighting believed;               ///< board and light as they are thought to be
  align::Sighting truth;                  ///< with the errors nobody knows of
  naming::IdentifyTarget first;           ///< expected places before the first round
  naming::IdentifyTarget later;           ///< after it
  naming::Cover cover;                    ///< of the first round
  naming::CoverCodes codes;               ///< of the first round, when covers go by a code
  double diameter_m = 0.0;                ///< of a spot
  std::vector<naming::ArrayTurns> array;  ///< tilt array only
};

/// Problems: those of `set_up`, `naming::cells_of` and `naming::tilt_array`; numbers out of
/// range; more facets than a code has words.
base::Result<Stage> set_stage(const dish::Dish& dish, const Settings& settings);

}  // namespace practice
