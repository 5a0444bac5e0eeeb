// At the dish with a wrench: the facets to turn one after the other, and what was done at each.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// What is known of one facet of the work. `done` is read from the log, which goes with the dish;
/// the others are of this sitting.
enum class FacetWork { open, done, again, skipped };

/// The facet in hand; nothing while there is no work.
std::optional<dish::FacetId> facet_in_hand(const Session& session);

/// Goes on with work that was open when the sitting was kept, at the facet that was selected.
void resume_work(Session& session);

/// How the work on one facet stands.
FacetWork work_on(const Session& session, const dish::FacetId& facet);

/// How many facets of the work are done, and how many there are.
struct WorkCount {
  std::size_t done = 0;
  std::size_t all = 0;
};
WorkCount count_work(const Session& session);

/// True when facet by facet work can begin: the shown round asks for turns, or some are logged.
bool can_work_on_site(const Session& session);

/// One screw of the facet in hand, for letters read from two metres.
struct ToldScrew {
  std::string label;
  int clicks = 0;           ///< as told, clockwise + for the person where they stand
  std::string amount;       ///< "1¼", "⅓", "2 + 5/12"; empty when it stays
  std::string words;        ///< the whole instruction, how it should end included
  base::Vec2 place_m{0.0};  ///< on the bracket
};
/// Of the facet's correction, in the mount's order; nothing when the round has none for it.
std::optional<std::array<ToldScrew, 3>> told_screws(const Session& session,
                                                    const dish::FacetId& facet);

/// A slip of the hand that one tap puts right in the log: what was really turned instead.
struct Slip {
  std::string words;  ///< "I turned screw 2 the wrong way"
  dish::edit::AmendTurns amend;
};
/// For a facet whose turns are logged: each turned screw the other way round, each two screws
/// confused. Where the screws then stand follows from the turns.
std::vector<Slip> slips_of(const Session& session, const dish::FacetId& facet);

/// Turns of a facet that the shown round has logged.
std::vector<dish::Turned> turned_at(const Session& session, const dish::FacetId& facet);

}  // namespace session
