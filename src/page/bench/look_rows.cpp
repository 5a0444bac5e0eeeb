// The usual way first; what a dish needs once, before its first turn, comes before that.
#include "page/bench/look_rows.h"

#include <imgui.h>

#include "page/bench/fields.h"
#include "session/figures.h"
#include "session/spread.h"
#include "session/trial.h"

namespace page {
namespace {

namespace act = session::act;

/// Before any real turn: is the file right about the screws?
void offer_trial(const session::Session& session, session::Actions& actions) {
  for (const dish::Round& round : session.document.dish.rounds) {
    if (!round.turned.empty()) return;
  }
  if (session::shown_trial(session)) return;
  if (wide_button("First try the screws of two facets")) actions.push_back(act::BeginTrial{});
  hint_for_last(
      "Four looks at two facets, each screw alone turned by half a turn: shows wrong numbers, "
      "hands, threads and sides before they cost a whole round");
}

void offer_photo(const session::Session& session, session::Actions& actions) {
  if (session.photo_work.photos.empty()) {
    if (wide_button("Bring a photo of the board")) actions.push_back(act::AskOpen{});
    hint_for_last("One photograph of a board inside the focus shows where every facet's spot lies");
  } else if (wide_button("Back to the photos")) {
    actions.push_back(act::ShowPhotos{true});
  }
}

/// For a board at the focus, where all spots lie on one heap.
void offer_spread(const session::Session& session, session::Actions& actions) {
  if (!session::can_spread(session)) return;
  if (wide_button("Spread the spots on purpose")) actions.push_back(act::SpreadSpots{});
  hint_for_last(
      "Tells turns that give every facet's spot a place of its own at the focus, as the facets lie "
      "on the dish: for a single photo when no board can stand inside the focus");
}

}  // namespace

void show_look_rows(const session::Session& session, session::Actions& actions) {
  const bool has_rounds = session::shown_round(session) != nullptr;
  section(has_rounds ? "Look again" : "Begin");
  offer_trial(session, actions);
  offer_photo(session, actions);
  if (wide_button(has_rounds ? "New round from the model's spots" : "Log the model's own spots")) {
    actions.push_back(act::SpotsFromLight{});
  }
  hint_for_last(
      "A round with the spots that the model shows with its screws as they stand now: to practise "
      "with");
  offer_spread(session, actions);
  if (ImGui::Button("New round")) actions.push_back(act::BeginRound{});
  hint_for_last("An empty one with this light and board, to type spots into");
  if (!has_rounds) return;
  ImGui::SameLine();
  if (ImGui::Button("Take the last back")) actions.push_back(act::TakeRoundBack{});
  hint_for_last(
      "The last round leaves the log, and its screws stand where its spots found them; undo brings "
      "it back");
}

}  // namespace page
