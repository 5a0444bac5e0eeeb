// The wishes of one frame, carried out in their order, then everything derived brought up to date.
#include <algorithm>
#include <utility>

#include "session/carry.h"
#include "session/derive.h"
#include "session/notices.h"
#include "session/spots.h"

namespace session {
namespace {

/// The hints of the first minute, in their order.
enum Hint : std::size_t { hint_drag_screw, hint_see_spot, hint_read_correction };

bool moves_a_screw(const dish::Edit& edit) {
  return std::holds_alternative<dish::edit::SetDisplacement>(edit) ||
         std::holds_alternative<dish::edit::SetDisplacements>(edit);
}

/// A hint is done when the person has done what it says, and only after the one before it.
void note_hints(Session& session, const Action& action) {
  auto& done = session.hints_done;
  if (const auto* change = std::get_if<act::Change>(&action); change != nullptr) {
    if (moves_a_screw(change->edit)) done[hint_drag_screw] = true;
  } else if (std::holds_alternative<act::EndDrag>(action) ||
             std::holds_alternative<act::Hover>(action)) {
    done[hint_see_spot] = done[hint_see_spot] || done[hint_drag_screw];
  } else if (std::holds_alternative<act::Select>(action)) {
    const bool can_read = session.plan.value && session.stage == Stage::align;
    done[hint_read_correction] = done[hint_read_correction] || (done[hint_see_spot] && can_read);
  }
}

}  // namespace

bool change(Session& session, const std::vector<dish::Edit>& edits, const std::string& title) {
  auto changed = edit_all(session.document, edits, title);
  if (!changed) {
    tell_problems(session, "Not changed: " + title, changed.problems());
    return false;
  }
  session.document = std::move(changed).value();
  for (const dish::Edit& edit : edits) add(session.pending.touched, touched_by(edit));
  session.pending.revision = session.document.revision;
  return true;
}

void take_document(Session& session, Document document) {
  if (document.revision != session.document.revision)
    session.pending.touched = {.everything = true, .facets = {}};
  session.document = std::move(document);
  session.pending.revision = session.document.revision;
}

void carry_out(Session& session, const act::Change& wish) {
  if (const auto* spot = std::get_if<dish::edit::SetSpot>(&wish.edit); spot != nullptr) {
    set_spot(session, *spot);
    return;
  }
  if (!change(session, {wish.edit}, dish::title_of(wish.edit))) return;
  if (std::holds_alternative<dish::edit::AddRound>(wish.edit)) {
    show_round(session, session.document.dish.rounds.size() - 1);
  } else if (const auto* replaced = std::get_if<dish::edit::ReplaceRound>(&wish.edit);
             replaced != nullptr && replaced->index == session.round) {
    show_round(session, session.round);
  }
}

void carry_out(Session& session, const act::BeginDrag& wish) {
  session.document = open_step(std::move(session.document), wish.title);
}

void carry_out(Session& session, const act::EndDrag& /*wish*/) {
  session.document = close_step(std::move(session.document));
}

void carry_out(Session& session, const act::CancelDrag& /*wish*/) {
  take_document(session, abandon_step(session.document));
}

void carry_out(Session& session, const act::Undo& /*wish*/) {
  take_document(session, undo(session.document));
}

void carry_out(Session& session, const act::Redo& /*wish*/) {
  take_document(session, redo(session.document));
}

void carry_out(Session& session, const act::DismissNotice& wish) { dismiss(session, wish.notice); }

void apply(Session& session, const Actions& actions) {
  for (const Action& action : actions) {
    std::visit([&](const auto& wish) { carry_out(session, wish); }, action);
    note_hints(session, action);
  }
  derive(session);
}

}  // namespace session
