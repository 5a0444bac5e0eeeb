// The answer "rounds": the log of alignment rounds as a story, two logs as one, the last round
// taken back.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "align/rounds_story.h"
#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"

namespace tasks {

struct RoundsRequest {
  std::optional<dish::Dish> merge;  ///< another file of the same dish, merged in first
  bool undo_last = false;           ///< then the last round is taken back
  align::StoryRequest story;
};

struct RoundsReply {
  dish::Dish dish;                          ///< after merging and taking back
  bool changed = false;                     ///< it is not the one that was asked about
  std::vector<std::string> notes;           ///< what came from the other file
  std::vector<std::string> conflicts;       ///< what the two files say differently
  std::string taken_back;                   ///< name of the round that was; empty: none
  std::optional<align::RoundsStory> story;  ///< absent when no round is left
};

/// Problems: files of different dishes, no round to take back, a dish without rounds that is not
/// merged with anything, a request that no plan accepts.
base::Result<RoundsReply> run(const dish::Dish& dish, const RoundsRequest& request,
                              const base::Progress& progress = {});

/// Keys: rounds [{name, rms_tilt_mrad, ..., facets [...]}], convergence, outlook, labels, doubts,
/// notes, conflicts, verdict; "file", the dish file's text, when the dish was changed.
std::string json_text(const RoundsReply& reply);

/// What a person at the dish reads.
std::string report_text(const RoundsReply& reply);

}  // namespace tasks
