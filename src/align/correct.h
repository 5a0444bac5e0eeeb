// One facet: from what was seen or measured of it to what each of its screws should do.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "adjusters/screws.h"
#include "adjusters/springs.h"
#include "adjusters/turns.h"
#include "align/evidence.h"
#include "align/learned_screws.h"
#include "align/observe.h"
#include "align/piston.h"
#include "align/play.h"
#include "base/result.h"
#include "dish/dish.h"

namespace align {

/// What a tilt turns about: `mount`, the screws' own plane (the centre moves with it), or `fixed`,
/// the centre where the file puts it.
enum class Pivot { mount, fixed };

struct CorrectionRequest {
  Piston piston = Piston::fewest_turns;
  std::string held_screw;              ///< label, for hold_screw
  std::optional<int> clicks_per_turn;  ///< instead of the mount's
  Pivot pivot = Pivot::mount;
  ReadingSigmas sigmas;                    ///< of readings that bring none of their own
  double turn_sigma_turns = 1.0 / 12.0;    ///< of what a hand really turns
  std::optional<LearnedScrews> learned{};  ///< from earlier rounds; nothing: as in the file
  LearnedPlay play{};                      ///< from earlier rounds
};

struct ScrewCorrection {
  std::string label;
  double now_m = 0.0;           ///< displacement from nominal now, as the reading tells it
  double displacement_m = 0.0;  ///< wanted change, exact, + to the sun
  double turns = 0.0;           ///< the same in turns, clockwise + from the side it is turned from
  double sigma_turns = 0.0;     ///< from the reading's sigma alone
  int clicks = 0;               ///< told, clockwise +
  double lost_turns = 0.0;      ///< of the told clicks, what only takes up play; signed alike
  int clicks_per_turn = 12;
  double after_m = 0.0;  ///< displacement from nominal when the told clicks are done
  dish::Side seen_from = dish::Side::back;  ///< the side it is turned from
  std::string direction;                    ///< "1 turn and 4 clicks clockwise, seen from the back"
  adjusters::Finish finish;                 ///< how the move should end
  adjusters::TravelLeft travel_left;        ///< when done
  adjusters::SpringReading spring_after;    ///< when done
  double turns_from_nominal = 0.0;          ///< when done, clockwise +
  double gain = 1.0;                        ///< how far it moves, of nominal
  double gain_sigma = 0.0;                  ///< 0: not learned
};

/// What an observation was made with.
enum class Instrument { spot, inclinometer, height_gauge };

enum class Verdict {
  turn,           ///< worth turning
  leave,          ///< its error is within what reading and turning can do
  measure_again,  ///< does not fit the others: read it again before turning
  out_of_range,   ///< the screws cannot reach it
};

struct Correction {
  dish::FacetId id;
  Instrument seen_with = Instrument::spot;
  adjusters::FacePose actual;           ///< as the reading tells it
  adjusters::FacePose desired;          ///< where the exact correction puts it
  base::Vec2 tilt_error_rad{0.0, 0.0};  ///< actual against desired: about the facet's x and y
  double tilt_sigma_rad = 0.0;          ///< of the tilt error, both axes together (rms)
  /// Seen, less where a perfect facet's spot would lie. Of a facet that was measured without a
  /// spot: where its spot would lie, under the round's light and on its board, if anywhere.
  base::Vec2 spot_error_m{0.0, 0.0};
  std::array<ScrewCorrection, 3> screws;
  PistonChoice piston;
  double residual_rad = 0.0;                  ///< tilt left after whole clicks
  std::optional<base::Vec2> residual_spot_m;  ///< the spot's offset then, same light and board
  /// Rms tilt to expect when the told clicks are made, with the noise of reading and turning.
  double expected_rad = 0.0;
  double stop_threshold_m = 0.0;    ///< a spot error below this is better left alone
  double stop_threshold_rad = 0.0;  ///< the same as a tilt
  double misfit = 0.0;              ///< see `Evidence`
  Verdict verdict = Verdict::turn;
  std::string verdict_text;  ///< one sentence or two
};

/// Exact correction of one facet from what was observed of it.
///
/// Given: the dish as built, the facet, the light and board, the centre ray's spot (right, up), or
/// an inclinometer's readings, or measured heights. Each gives two slopes. What is known of the
/// third freedom is the file's as-built height at the facet's foot, or, when a screw is held, that
/// screw's as-built height; with it the facet's actual plane follows by fixed-point iteration,
/// because the centre goes with the plane. The wanted plane: slopes of `desired_normal` at the new
/// centre, rises d_k by the slopes' change, plus the convention's c; again iterated, both until
/// nothing moves by 1e-12 m. Undoes any displacement whose third freedom is as assumed, to
/// rounding.
///
/// Play that earlier rounds showed: with a spring the loading direction is known, and a move
/// against it goes as much further before it comes back, so that nothing is lost. Without one,
/// screws that change direction are told to turn as much more. Source: z = F (t + b [direction
/// changed]).
///
/// Stop rule: turn only when |error|^2 > 4 s_read^2 + 2 s_turn^2 (per axis; of a spot on the board,
/// else of the tilt), since a correction replaces the error by the noise of reading and turning.
/// Source: derived.
/// Readings beyond what two numbers need that disagree by more than 4 sigma give the verdict to
/// measure again.
/// Problems name the facet: no bracket (see `bracket_of`), readings that cannot be (see
/// `evidence_of`), no screw of the label that is to be held, no way to the aim.
base::Result<Correction> correct(const dish::Dish& dish, const dish::Facet& facet,
                                 const Sighting& sighting, const Observation& observation,
                                 const CorrectionRequest& request);

/// The same for a spot.
base::Result<Correction> correct(const dish::Dish& dish, const dish::Facet& facet,
                                 const Sighting& sighting, const base::Vec2& seen_m,
                                 const CorrectionRequest& request);

/// Stop threshold on the board that a correction of this facet usually has: two of its three screws
/// turned, whichever. m. Problems: as in `set_up` and `expected_mark`.
base::Result<double> usual_stop_threshold(const dish::Dish& dish, const dish::Facet& facet,
                                          const Sighting& sighting,
                                          const CorrectionRequest& request);

/// The same verdict in other words when the facet does not fit its neighbours.
void mark_doubtful(Correction& correction);

}  // namespace align
