// Every row changes a copy of the round and wishes it back.
#include "page/bench/round_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include <variant>

#include "base/units.h"
#include "session/figures.h"

namespace page {
namespace {

namespace act = session::act;
using dish::Round;
using dish::ranges::Quantity;

template <class Change>
std::function<dish::Edit(double)> changing(std::size_t index, const Round& round, Change change) {
  return [index, round, change](double si) {
    Round changed = round;
    change(changed, si);
    return dish::edit::ReplaceRound{index, changed};
  };
}

void show_source(std::size_t index, const Round& round, AlignMemory& memory,
                 session::Actions& actions) {
  if (const auto chosen = choice_row("light",
                                     {"the sun", "laser along the axis", "lamp",
                                      "laser aimed from a point", "camera looking back"},
                                     static_cast<int>(round.source.index()),
                                     "What lit the facets when the spots were seen")) {
    Round changed = round;
    if (*chosen == 0) changed.source = dish::SunSource{};
    if (*chosen == 1) changed.source = dish::LaserSource{};
    if (*chosen == 2) changed.source = dish::LampSource{};
    if (*chosen == 3) changed.source = dish::AimedLaserSource{};
    if (*chosen == 4) changed.source = dish::CameraSource{};
    actions.push_back(act::Change{dish::edit::ReplaceRound{index, changed}});
    return;
  }
  if (const auto* sun = std::get_if<dish::SunSource>(&round.source)) {
    const base::Vec2 error = sun->tracking_error_rad;
    number_row({"sun to the right", Quantity::tracking_error, error.x,
                "Measured pointing error; it drops out of the corrections"},
               memory.fields, actions, changing(index, round, [error](Round& r, double si) {
                 r.source = dish::SunSource{{si, error.y}};
               }));
    number_row({"sun up", Quantity::tracking_error, error.y}, memory.fields, actions,
               changing(index, round, [error](Round& r, double si) {
                 r.source = dish::SunSource{{error.x, si}};
               }));
  } else if (const base::Vec3* point = dish::point_of(round.source)) {
    const base::Vec3 at = *point;
    const char* labels[3] = {"it stands at x", "y", "z"};
    for (int axis = 0; axis < 3; ++axis) {
      number_row({labels[axis], Quantity::lamp_position, at[axis],
                  "In the dish's frame: x to the right seen from the sun, y up, z to the sun"},
                 memory.fields, actions, changing(index, round, [at, axis](Round& r, double si) {
                   base::Vec3 moved = at;
                   moved[axis] = si;
                   r.source = dish::moved_to(r.source, moved);
                 }));
    }
  }
}

void show_board(std::size_t index, const Round& round, const dish::Receiver& receiver,
                AlignMemory& memory, session::Actions& actions) {
  if (const auto chosen = choice_row("board", {"the receiver's plane", "a board of its own"},
                                     round.board ? 1 : 0, "Where the spots were read")) {
    Round changed = round;
    changed.board.reset();
    if (*chosen == 1)
      changed.board = dish::Board{receiver.centre_m, receiver.lit_normal, receiver.up};
    actions.push_back(act::Change{dish::edit::ReplaceRound{index, changed}});
    return;
  }
  if (!round.board) return;
  number_row(
      {"board's height", Quantity::board_centre, round.board->centre_m.z, "Along the dish's axis"},
      memory.fields, actions,
      changing(index, round, [](Round& r, double si) { r.board->centre_m.z = si; }));
}

/// Leans cannot be read without it; of spots it tells gravity from the tracker, if it is known.
void show_elevation(std::size_t index, const Round& round, AlignMemory& memory,
                    session::Actions& actions) {
  if (round.leans.empty()) {
    const auto on = switch_row("elevation noted", round.elevation_rad.has_value(),
                               "How high the dish pointed. Rounds at different elevations tell "
                               "what gravity bends from what the tracker is off by");
    if (on) {
      Round changed = round;
      changed.elevation_rad.reset();
      if (*on) changed.elevation_rad = dish::ranges::of(Quantity::elevation).fallback;
      actions.push_back(act::Change{dish::edit::ReplaceRound{index, changed}});
      return;
    }
    if (!round.elevation_rad) return;
  }
  number_row({"dish elevation", Quantity::elevation, round.elevation_rad.value_or(0.0),
              "Of the dish's axis above the horizon"},
             memory.fields, actions,
             changing(index, round, [](Round& r, double si) { r.elevation_rad = si; }));
}

}  // namespace

void show_round_choice(const session::Session& session, session::Actions& actions) {
  if (session.document.dish.rounds.empty()) {
    ImGui::TextUnformatted("No round yet");
    return;
  }
  std::vector<std::string> names;
  for (const Round& round : session.document.dish.rounds) {
    names.push_back(fmt::format("{} ({} spots{})", round.name, round.spots.size(),
                                round.turned.empty() ? "" : ", turned"));
  }
  const Round* shown = session::shown_round(session);
  if (const auto chosen = choice_row("round", names, static_cast<int>(session.round), "",
                                     shown != nullptr ? shown->name : "")) {
    actions.push_back(act::SetRound{static_cast<std::size_t>(*chosen)});
  }
}

void show_round_rows(const session::Session& session, AlignMemory& memory,
                     session::Actions& actions) {
  const Round* round = session::shown_round(session);
  if (round == nullptr) return;
  section("How this round was seen");
  show_source(session.round, *round, memory, actions);
  show_board(session.round, *round, session.document.dish.receiver, memory, actions);
  show_elevation(session.round, *round, memory, actions);
}

}  // namespace page
