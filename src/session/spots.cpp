// Logs observations as edits of the dish.
#include "session/spots.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "align/nudge.h"
#include "align/put_right.h"
#include "dish/merge.h"
#include "naming/schemes.h"
#include "session/carry.h"
#include "session/derive.h"
#include "session/figures.h"
#include "session/notices.h"
#include "tasks/align_task.h"

namespace session {
namespace {

constexpr std::size_t k_last_round = static_cast<std::size_t>(-1);

/// "Round 3", or the next number that no round has yet. Looks of a trial do not count.
std::string next_round_name(const dish::Dish& dish) {
  const auto before =
      std::count_if(dish.rounds.begin(), dish.rounds.end(),
                    [](const dish::Round& round) { return !align::is_nudge_round(round); });
  for (auto number = before + 1;; ++number) {
    std::string name = fmt::format("Round {}", number);
    bool taken = false;
    for (const dish::Round& round : dish.rounds) taken = taken || round.name == name;
    if (!taken) return name;
  }
}

/// A round under the sun as the session's light has it, seen in the receiver's plane.
dish::Round sun_round(const Session& session) {
  return {.name = next_round_name(session.document.dish),
          .source = dish::SunSource{session.tracking_error_rad}};
}

bool log_round(Session& session, dish::Round round, const std::string& title) {
  if (!change(session, {dish::edit::AddRound{std::move(round)}}, title)) return false;
  show_round(session, k_last_round);
  return true;
}

}  // namespace

void show_round(Session& session, std::size_t round) {
  const auto& rounds = session.document.dish.rounds;
  session.round = rounds.empty() ? 0 : std::min(round, rounds.size() - 1);
  session.pending.plan = true;
  if (rounds.empty()) return;
  const dish::Round& shown = rounds[session.round];
  session.plan_request.spot_is_centroid = tasks::is_centroid_by_default(shown.source);
  // Turns are shown with what was left to others when they were made.
  if (!shown.turned.empty()) session.plan_request.left_out = shown.left_out;
}

dish::Round following_round(const Session& session) {
  dish::Round round = sun_round(session);
  if (const dish::Round* shown = shown_round(session); shown != nullptr) {
    round.source = shown->source;
    round.board = shown->board;
    round.left_out = shown->left_out;
  }
  return round;
}

bool add_round(Session& session, std::vector<dish::Spot> spots, const std::string& title) {
  dish::Round round = following_round(session);
  round.spots = std::move(spots);
  return log_round(session, std::move(round), title);
}

bool add_board_round(Session& session, std::vector<dish::Spot> spots, double before_focus_m) {
  dish::Round round = sun_round(session);
  if (const dish::Round* shown = shown_round(session)) round.left_out = shown->left_out;
  round.board = naming::board_before_focus(session.document.dish, before_focus_m);
  round.spots = std::move(spots);
  if (!log_round(session, std::move(round), "Take the spots of photos")) return false;
  // Masked facets show where their middles send the light.
  session.plan_request.spot_is_centroid = false;
  session.plan_request.secondary_in_place = false;
  return true;
}

bool add_look_back_round(Session& session, std::vector<dish::Spot> spots,
                         const base::Vec3& camera_m, const std::optional<dish::Board>& screen) {
  dish::Round round{.name = next_round_name(session.document.dish),
                    .source = dish::CameraSource{camera_m},
                    .board = screen};
  if (const dish::Round* shown = shown_round(session)) round.left_out = shown->left_out;
  round.spots = std::move(spots);
  if (!log_round(session, std::move(round), "Take the places of a look back")) return false;
  session.plan_request.secondary_in_place = false;
  return true;
}

tasks::MarksRequest marks_request(const Session& session) {
  const align::PlanRequest& plan = session.plan_request;
  tasks::MarksRequest request{.secondary_in_place = plan.secondary_in_place,
                              .spot_is_centroid = plan.spot_is_centroid,
                              .spot_sigma_m = plan.spot_sigma_m,
                              .turn_sigma_turns = plan.turn_sigma_turns};
  if (const dish::Round* round = shown_round(session)) request.round = *round;
  return request;
}

void set_spot(Session& session, const dish::edit::SetSpot& wish) {
  const std::string title = dish::title_of(wish);
  if (!session.document.dish.rounds.empty()) {
    change(session, {wish}, title);
    return;
  }
  // The first spot of a dish without rounds brings the round it stands in, as one step with it.
  dish::edit::SetSpot first = wish;
  first.round = 0;
  if (change(session, {dish::edit::AddRound{sun_round(session)}, first}, title))
    show_round(session, k_last_round);
}

void carry_out(Session& session, const act::SpotsFromLight& /*wish*/) {
  derive(session);  // wishes before this one may have moved the light
  if (!session.live.value) {
    tell_problems(session, "There is no light to take spots from", session.live.problems);
    return;
  }
  dish::Round round = sun_round(session);
  const bool middle = tasks::is_centroid_by_default(round.source);
  const dish::Dish& dish = session.document.dish;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const optics::FacetSpot& light = session.live.value->spots[i];
    if (middle ? light.plane_W <= 0.0 : !light.chief_lands) continue;
    round.spots.push_back(
        {.facet = dish.facets[i].id, .seen_m = middle ? light.centroid_m : light.chief_m});
  }
  if (round.spots.empty()) {
    tell(session,
         {.kind = Notice::Kind::warning, .title = "No facet's spot falls on the receiver's plane"});
    return;
  }
  log_round(session, std::move(round), "Log the spots of the model's light");
}

void carry_out(Session& session, const act::BeginRound& /*wish*/) {
  log_round(session, following_round(session), "Begin a round");
}

void carry_out(Session& session, const act::MergeRounds& wish) {
  const auto merged = dish::merge_rounds(session.document.dish, *wish.other);
  if (!merged) {
    tell_problems(session, "The rounds stay apart", merged.problems());
    return;
  }
  if (!change(session, {dish::edit::MergeRounds{*wish.other}}, "Add the other file's rounds"))
    return;
  show_round(session, k_last_round);
  const auto& [dish, notes, conflicts] = merged.value();
  Notice notice{.title = fmt::format("The log now holds {} rounds", dish.rounds.size()),
                .lines = notes};
  if (!conflicts.empty()) notice.kind = Notice::Kind::warning;
  notice.lines.insert(notice.lines.begin(), conflicts.begin(), conflicts.end());
  tell(session, std::move(notice));
}

void carry_out(Session& session, const act::TakeRoundBack& /*wish*/) {
  const auto edit = align::take_back_last(session.document.dish);
  if (!edit) {
    tell_problems(session, "No round was taken back", edit.problems());
    return;
  }
  if (change(session, {edit.value()}, dish::title_of(edit.value())))
    show_round(session, k_last_round);
}

}  // namespace session
