// The answer "align": from what was seen or measured to turns of each screw.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "align/plan.h"
#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "files/readings.h"

namespace tasks {

struct AlignRequest {
  dish::Round round;           ///< what was seen, with which light, on which board
  align::PlanRequest plan;     ///< how the corrections are chosen
  bool skip_unusable = false;  ///< leave spots out that cannot be used, instead of refusing
};

struct AlignReply {
  align::Plan plan;
  AlignRequest request;  ///< as it was carried out
};

/// Problems: those of align::make_plan, a screw to hold that no mount has; and, unless
/// skip_unusable, every spot that cannot be used.
base::Result<AlignReply> run(const dish::Dish& dish, const AlignRequest& request,
                             const base::Progress& progress = {});

/// What a round's light is taken to show when nobody says: the middle of the whole facet's light
/// for the sun, the centre ray for laser and lamp.
bool is_centroid_by_default(const dish::Source& source);

/// Words of --keep and of the request's "keep": a convention, or a screw's label.
struct Keep {
  align::Piston piston = align::Piston::fewest_turns;
  std::string held_screw;
};
std::vector<std::string> keep_words();
Keep keep_of(const std::string& word);
std::string keep_word(const align::PlanRequest& plan);

/// Common modes that can be left out of the corrections, by the cause a person corrects instead:
/// "boresight" (both shifts), "focus", "clocking", "bend" (both saddles).
std::vector<std::string> leave_out_words();
/// Sets the modes of one word. False: there is no such word.
bool leave_out(const std::string& word, align::PlanRequest& plan);

/// Makes the board's two directions unit vectors. Problems: one has no length, or both point the
/// same way. `place` is what the person calls the board.
base::Problems straighten(dish::Board& board, const std::string& place);

/// The spots of a file or of pasted text as those of a round. Problems: see files/spots.h.
struct SpotsOfFile {
  std::vector<dish::Spot> spots;
  std::vector<std::string> notes;
};
base::Result<SpotsOfFile> spots_of_file(const dish::Dish& dish, std::string_view bytes,
                                        const std::string& file_name);

/// A round that the dish holds, by its name, or "last". Problem: none of this name.
base::Result<dish::Round> round_of_dish(const dish::Dish& dish, const std::string& name);

/// "turn", "leave", "measure_again", "out_of_range".
const char* verdict_word(align::Verdict verdict);

/// Keys of the headless program: common, facets [{id, tilt_error_mrad, screws [...], ...}], ...
std::string json_text(const AlignReply& reply);

/// What a person at the dish reads.
std::string report_text(const AlignReply& reply);

/// One row for each screw.
std::string csv_text(const AlignReply& reply);

}  // namespace tasks
