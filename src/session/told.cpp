// Two sources of turns, one log.
#include "session/told.h"

#include <algorithm>
#include <cmath>

#include "adjusters/screws.h"
#include "adjusters/turns.h"
#include "align/history.h"
#include "session/carry.h"
#include "session/derive.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/practice.h"

namespace session {
namespace {

bool is_turned(const dish::Round& round, const dish::FacetId& facet) {
  return std::any_of(round.turned.begin(), round.turned.end(),
                     [&](const dish::Turned& turned) { return turned.facet == facet; });
}

bool asks(const align::Correction& correction) {
  return correction.verdict == align::Verdict::turn &&
         std::any_of(correction.screws.begin(), correction.screws.end(),
                     [](const align::ScrewCorrection& screw) { return screw.clicks != 0; });
}

/// From the round's own list; the screws go on from where the file has them.
std::optional<std::array<ToldTurn, 3>> prescribed_turns(const Session& session,
                                                        const dish::Round& round,
                                                        const dish::FacetId& id) {
  const dish::Dish& dish = session.document.dish;
  const std::size_t index = dish::find_facet(dish, id);
  if (index == dish::k_no_facet) return {};
  const dish::Facet& facet = dish.facets[index];
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  if (mount == nullptr || mount->adjusters.size() != 3) return {};
  const align::Turns turns = align::turns_in(round.told, id, *mount);
  if (turns == align::Turns{}) return {};
  const bool is_made = is_turned(round, id);
  std::array<ToldTurn, 3> told;
  for (std::size_t k = 0; k < 3; ++k) {
    const dish::Adjuster& screw = mount->adjusters[k];
    const double rise_m = turns[k] * adjusters::rise_per_turn_m(screw);
    told[k] = {.label = screw.label,
               .clicks = static_cast<int>(std::lround(turns[k] * mount->clicks_per_turn)),
               .clicks_per_turn = mount->clicks_per_turn,
               .seen_from = screw.turned_from,
               .after_m = facet.displacement_m[k] + (is_made ? 0.0 : rise_m)};
  }
  return told;
}

std::array<ToldTurn, 3> planned_turns(const align::Correction& correction) {
  std::array<ToldTurn, 3> told;
  for (std::size_t k = 0; k < 3; ++k) {
    const align::ScrewCorrection& screw = correction.screws[k];
    told[k] = {.label = screw.label,
               .clicks = screw.clicks,
               .clicks_per_turn = screw.clicks_per_turn,
               .seen_from = screw.seen_from,
               .finish = screw.finish.text,
               .after_m = screw.after_m};
  }
  return told;
}

/// Whoever says "done" did what was told; the log can be put right afterwards.
bool record(Session& session, const std::vector<dish::FacetId>& facets) {
  dish::edit::RecordTurns made{.round = session.round};
  for (const dish::FacetId& facet : facets) {
    const auto told = told_turns(session, facet);
    if (!told) continue;
    dish::edit::Moved moved{.facet = facet};
    for (std::size_t k = 0; k < 3; ++k) {
      const ToldTurn& turn = (*told)[k];
      moved.displacement_m[k] = turn.after_m;
      if (turn.clicks == 0) continue;
      made.turned.push_back({.facet = facet,
                             .screw = turn.label,
                             .turns = static_cast<double>(turn.clicks) / turn.clicks_per_turn});
    }
    made.moved.push_back(moved);
  }
  if (!is_prescribed(*shown_round(session))) made.told = made.turned;
  made.left_out = session.plan_request.left_out;
  if (!change(session, {made}, dish::title_of(made))) return false;
  turn_hidden(session, made.turned);
  return true;
}

}  // namespace

bool is_prescribed(const dish::Round& round) {
  return !round.told.empty() && !dish::has_observations(round);
}

std::optional<std::array<ToldTurn, 3>> told_turns(const Session& session,
                                                  const dish::FacetId& facet) {
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return {};
  if (is_prescribed(*round)) return prescribed_turns(session, *round, facet);
  const align::Correction* correction = correction_of(session, facet);
  if (correction == nullptr) return {};
  return planned_turns(*correction);
}

bool is_turned(const Session& session, const dish::FacetId& facet) {
  const dish::Round* round = shown_round(session);
  return round != nullptr && is_turned(*round, facet);
}

std::string words_of(const ToldTurn& turn, dish::Side side) {
  return adjusters::turn_text(turn.clicks, turn.clicks_per_turn, turn.seen_from, side);
}

std::vector<dish::FacetId> open_turns(const Session& session) {
  std::vector<dish::FacetId> open;
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return open;
  if (is_prescribed(*round)) {
    for (const dish::Turned& told : round->told) {
      const bool is_known = !open.empty() && open.back() == told.facet;
      if (!is_known && !is_turned(*round, told.facet)) open.push_back(told.facet);
    }
  } else if (is_fresh(session, session.plan)) {
    for (const align::Correction& correction : session.plan.value->facets) {
      if (asks(correction) && !is_turned(*round, correction.id)) open.push_back(correction.id);
    }
  }
  return open;
}

bool turns_are_open(const Session& session) {
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return false;
  if (is_prescribed(*round)) {
    return std::any_of(round->told.begin(), round->told.end(),
                       [&](const dish::Turned& told) { return !is_turned(*round, told.facet); });
  }
  if (!is_fresh(session, session.plan)) return false;
  const auto& facets = session.plan.value->facets;
  return std::any_of(facets.begin(), facets.end(), [&](const align::Correction& correction) {
    return asks(correction) && !is_turned(*round, correction.id);
  });
}

bool log_told_turns(Session& session, const dish::FacetId& facet) {
  if (told_turns(session, facet)) return record(session, {facet});
  tell(session, {.kind = Notice::Kind::note,
                 .title = "Nothing is told for facet " + facet.text,
                 .lines = {"It has no spot in this round."}});
  return false;
}

void carry_out(Session& session, const act::TurnsDone& /*wish*/) {
  derive(session);
  const auto open = open_turns(session);
  if (!open.empty()) {
    record(session, open);
    return;
  }
  tell(session, {.kind = Notice::Kind::note,
                 .title = "No turns are waiting to be made",
                 .lines = {"The turns of this round are logged already, or no facet needs any. "
                           "Look at the spots again and log them as a new round."}});
}

}  // namespace session
