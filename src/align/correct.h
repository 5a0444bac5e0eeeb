// One facet: from where its spot was seen to what each of its screws should do.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "adjusters/screws.h"
#include "adjusters/springs.h"
#include "adjusters/turns.h"
#include "align/learned_screws.h"
#include "align/observe.h"
#include "align/piston.h"
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
  double spot_sigma_m = 0.002;             ///< per axis, of the seen spot
  double turn_sigma_turns = 1.0 / 12.0;    ///< of what a hand really turns
  std::optional<LearnedScrews> learned{};  ///< from earlier rounds; nothing: as in the file
};

struct ScrewCorrection {
  std::string label;
  double now_m = 0.0;           ///< displacement from nominal now, as the spot tells it
  double displacement_m = 0.0;  ///< wanted change, exact, + to the sun
  double turns = 0.0;           ///< the same in turns, clockwise + from the side it is turned from
  double sigma_turns = 0.0;     ///< from the spot's sigma alone
  int clicks = 0;               ///< told, clockwise +
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

enum class Verdict {
  turn,           ///< worth turning
  leave,          ///< its error is within what reading and turning can do
  measure_again,  ///< does not fit the others: read it again before turning
  out_of_range,   ///< the screws cannot reach it
};

struct Correction {
  dish::FacetId id;
  adjusters::FacePose actual;           ///< as the spot tells it
  adjusters::FacePose desired;          ///< where the exact correction puts it
  base::Vec2 tilt_error_rad{0.0, 0.0};  ///< actual against desired: about the facet's x and y
  base::Vec2 spot_error_m{0.0, 0.0};    ///< seen, less where a perfect facet's spot would lie
  std::array<ScrewCorrection, 3> screws;
  PistonChoice piston;
  double residual_rad = 0.0;                  ///< tilt left after whole clicks
  std::optional<base::Vec2> residual_spot_m;  ///< the spot's offset then, same light and board
  /// Rms tilt to expect when the told clicks are made, with the noise of reading and turning.
  double expected_rad = 0.0;
  double stop_threshold_m = 0.0;  ///< a spot error below this is better left alone
  Verdict verdict = Verdict::turn;
  std::string verdict_text;  ///< one sentence or two
};

/// Exact correction of one facet from its observed spot.
///
/// Given: the dish as built, the facet, the light and board, the centre ray's spot (right, up).
/// The spot gives two slopes. What is known of the third freedom is the file's as-built height at
/// the facet's foot, or, when a screw is held, that screw's as-built height; with it the facet's
/// actual plane follows by fixed-point iteration, because the centre goes with the plane. The
/// wanted plane: slopes of `desired_normal` at the new centre, rises d_k by the slopes' change,
/// plus the convention's c; again iterated, both until nothing moves by 1e-12 m.
/// Undoes any displacement whose third freedom is as assumed, to rounding.
///
/// Stop rule: turn only when |error|^2 > 4 s_spot^2 + 2 s_turn^2 (per axis, on the board), since a
/// correction replaces the error by the noise of reading and turning. Source: derived.
/// Problems name the facet: no bracket (see `bracket_of`), a spot off any possible reflection, no
/// screw of the label that is to be held, no way to the aim.
base::Result<Correction> correct(const dish::Dish& dish, const dish::Facet& facet,
                                 const Sighting& sighting, const base::Vec2& seen_m,
                                 const CorrectionRequest& request);

/// The same verdict in other words when the facet does not fit its neighbours.
void mark_doubtful(Correction& correction);

}  // namespace align
