// Figures that several panels show, as pure functions of the session, so that the page holds no
// physics. Nothing here traces or solves: it reads what was derived.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "adjusters/springs.h"
#include "adjusters/turns.h"
#include "session/session.h"

namespace session {

/// True when the result belongs to the dish as it is now.
template <class T>
bool is_fresh(const Session& session, const Derived<T>& derived) {
  return derived.value && derived.revision == session.document.revision;
}

// --- What is shown ---

/// The round whose corrections are shown; nullptr while the dish has none.
const dish::Round* shown_round(const Session& session);

/// Place of a facet in the dish; nothing when there is none or it is gone.
std::optional<std::size_t> selected_facet(const Session& session);
/// The facet to stand out: the hovered one, else the selected.
std::optional<std::size_t> highlighted_facet(const Session& session);

/// The side the person stands on; behind the dish until they have said.
dish::Side side_of(const Session& session);

/// The light to show figures of: the full trace once it is done for this light, else the quick
/// evaluation; nullptr when neither can be had.
const optics::TraceResult* light_of(const Session& session);
/// Half the receiver's width and height, m.
base::Vec2 receiver_half_m(const Session& session);
/// True when light_of is the full trace.
bool shows_full_trace(const Session& session);

// --- Screws ---

/// Which mount's adjuster carries this screw; nullptr when the facet has no three adjusters.
const dish::Adjuster* adjuster_of(const Session& session, std::size_t facet, int screw);

/// Everything the dial of one screw shows.
struct ScrewFigures {
  std::string label;
  double displacement_m = 0.0;  ///< from nominal, + to the sun
  double turns = 0.0;           ///< from nominal, clockwise + from the side it is turned from
  double dial_angle_rad = 0.0;  ///< of the slot, clockwise + as the person sees it, 0..2 pi
  double click_m = 0.0;         ///< displacement by one click clockwise from where it is turned
  int clicks_per_turn = 12;
  bool seen_from_behind_it = false;  ///< the person stands opposite the side it is turned from
  adjusters::TravelLeft travel_left;
  adjusters::SpringReading spring;
  double caliper_m = 0.0;      ///< what the caliper reads at nominal
  double caliper_now_m = 0.0;  ///< and where the screw stands now
};
std::optional<ScrewFigures> screw_figures(const Session& session, std::size_t facet, int screw);

/// Displacement that a number of turns (clockwise + from where it is turned) from nominal gives.
double displacement_of_turns(const dish::Adjuster& adjuster, double turns);

/// The nearest displacement within the adjuster's travel.
double within_travel(const dish::Adjuster& adjuster, double displacement_m);

/// The edit that turns one screw by clicks (clockwise + from where it is turned); nothing when
/// there is no such screw or its travel does not allow it.
std::optional<dish::Edit> turn_by_clicks(const Session& session, std::size_t facet, int screw,
                                         int clicks);

// --- Corrections ---

/// What to do with a facet after the shown round; nullptr when it has no usable spot.
const align::Correction* correction_of(const Session& session, const dish::FacetId& facet);

/// The observed spot of a facet in the shown round; nothing when it has none.
std::optional<base::Vec2> seen_spot(const Session& session, const dish::FacetId& facet);

// --- Watts and colours ---

/// One piece of the bar from sunlight on the aperture to heat in the receiver.
struct WattShare {
  std::string name;
  const char* hint = "";  ///< what the account holds
  double watts = 0.0;
  bool lost = true;
  double of_incident = 0.0;  ///< fraction
};
/// In the order in which light meets its fate; the last one is what the receiver absorbs. They
/// add up to the incident sunlight. Shares of exactly 0 W are left out.
std::vector<WattShare> watt_shares(const optics::Ledger& ledger);

/// The quantity a facet is coloured by; nothing for plain, kind and shadow, or while it is
/// not known.
/// SI: W, rad, m.
std::optional<double> tint_value(const Session& session, std::size_t facet);

/// Least and most of it over all facets, for the legend; nothing when no facet has any.
struct TintSpan {
  double least = 0.0;
  double most = 0.0;
};
std::optional<TintSpan> tint_span(const Session& session);

}  // namespace session
