// Looks are rounds; the turns between them are logged like any others.
#include "session/trial.h"

#include <fmt/format.h>

#include <variant>

#include "align/rewire.h"
#include "session/carry.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/practice.h"
#include "session/spots.h"

namespace session {

std::optional<align::Nudge> shown_trial(const Session& session) {
  const dish::Round* shown = shown_round(session);
  if (shown == nullptr || !align::is_nudge_round(*shown)) return {};
  const auto nudge = align::nudge_in_log(session.document.dish);
  if (!nudge || session.round < nudge->first_round ||
      session.round >= nudge->first_round + nudge->looks) {
    return {};
  }
  return nudge;
}

std::string trial_step(const Session& session) {
  const auto trial = shown_trial(session);
  return trial ? align::nudge_step(session.document.dish, *trial) : std::string();
}

bool can_turn_trial(const Session& session) {
  const auto trial = shown_trial(session);
  return trial && trial->is_seen && !align::is_over(*trial) &&
         session.round + 1 == trial->first_round + trial->looks;
}

void carry_out(Session& session, const act::BeginTrial& /*wish*/) {
  if (align::nudge_facets(session.document.dish).empty()) {
    tell(session, {.kind = Notice::Kind::warning,
                   .title = "There are no screws to try",
                   .lines = {"No facet of this dish sits on a mount with three adjusters."}});
    return;
  }
  dish::Round round = following_round(session);
  round.name = align::nudge_round_name(0);
  if (!change(session, {dish::edit::AddRound{std::move(round)}}, "Begin a trial of the screws"))
    return;
  show_round(session, session.document.dish.rounds.size());
  look_at_trial(session);
}

void carry_out(Session& session, const act::TrialTurned& /*wish*/) {
  if (!can_turn_trial(session)) return;
  const auto edits = align::next_nudge(session.document.dish, *shown_trial(session));
  if (!edits) {
    tell_problems(session, "The trial stays where it is", edits.problems());
    return;
  }
  const auto turned = std::get<dish::edit::RecordTurns>(edits.value().front()).turned;
  if (!change(session, edits.value(), "Turn the next screw of the trial")) return;
  turn_hidden(session, turned);
  show_round(session, session.document.dish.rounds.size());
  look_at_trial(session);
}

void carry_out(Session& session, const act::CorrectMount& wish) {
  const auto edits = align::rewire(session.document.dish, wish.mount, wish.wiring);
  if (!edits) {
    tell_problems(session, "The file stays as it is", edits.problems());
    return;
  }
  if (!change(session, edits.value(), fmt::format("Correct the screws of {}", wish.mount.text)))
    return;
  session.pending.plan = true;
  tell(session,
       {.title = fmt::format("Mount {} now says how its screws are wired", wish.mount.text),
        .lines = {"Turns that are logged count as what they really did. Try one facet again to be "
                  "sure; undo takes this back."}});
}

}  // namespace session
