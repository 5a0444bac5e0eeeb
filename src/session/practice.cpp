// The hidden dish lives beside the document: the log, the plan and all views see only its spots.
#include "session/practice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "align/observe.h"
#include "base/units.h"
#include "session/carry.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/spots.h"

namespace session {
namespace {

// Purposes of random numbers: what is hidden, looks, turns.
constexpr std::uint32_t k_hiding = 0;
constexpr std::uint32_t k_looking = 1;
constexpr std::uint32_t k_turning = 2;

double rms_left(const Session& session) {
  const auto practice = align::practice_dish(session.document.dish);
  if (!practice) return 0.0;
  const auto tilts = align::tilts_left(practice.value(), session.practice.hidden);
  double square = 0.0;
  for (const double tilt : tilts) square += tilt * tilt;
  return tilts.empty() ? 0.0 : std::sqrt(square / static_cast<double>(tilts.size()));
}

void tell_off(Session& session) {
  session.practice.on = false;
  tell(session, {.kind = Notice::Kind::note,
                 .title = "The practice is over",
                 .lines = {"Another dish is open, or its facets have changed."}});
}

}  // namespace

bool practises(const Session& session) {
  return session.practice.on &&
         session.practice.hidden.displacement_m.size() == session.document.dish.facets.size();
}

void turn_hidden(Session& session, const std::vector<dish::Turned>& turned) {
  PracticeWork& work = session.practice;
  if (!work.on) return;
  const auto practice = align::practice_dish(session.document.dish);
  if (!practises(session) || !practice) return tell_off(session);
  std::vector<align::ToldTurns> told;
  for (const dish::Turned& one : turned) {
    const std::size_t facet = dish::find_facet(session.document.dish, one.facet);
    if (facet == dish::k_no_facet) continue;
    if (told.empty() || told.back().facet != facet) told.push_back({.facet = facet, .turns = {}});
    const dish::Mount& mount = *practice.value().setups[facet].mount;
    for (std::size_t k = 0; k < 3; ++k) {
      if (mount.adjusters[k].label == one.screw) told.back().turns[k] += one.turns;
    }
  }
  align::Draws draws(work.seed, work.turns++, k_turning);
  align::turn(practice.value(), work.hidden, told, {}, draws);
  work.told_rms_rad.reset();
}

void carry_out(Session& session, const act::StartPractice& wish) {
  const auto practice = align::practice_dish(session.document.dish);
  if (!practice) {
    tell_problems(session, "This dish cannot be practised on", practice.problems());
    return;
  }
  PracticeWork work{.on = true,
                    .seed = wish.seed,
                    .start_rad = std::clamp(wish.start_rad, 1e-4, 0.03),
                    .hidden = {}};
  align::Draws draws(work.seed, 0, k_hiding);
  work.hidden = align::hide(practice.value(), {.tilt_rad = work.start_rad}, draws);
  session.practice = std::move(work);
  session.practice.start_rms_rad = rms_left(session);
  tell(
      session,
      {.title = fmt::format("Practice {} has begun", wish.seed),
       .lines = {"Every facet of a hidden dish stands off by an amount you do not know. Look, turn "
                 "what you are told, look again; ask at the end what is left."}});
}

void carry_out(Session& session, const act::PracticeLook& /*wish*/) {
  PracticeWork& work = session.practice;
  if (!work.on) return;
  const auto practice = align::practice_dish(session.document.dish);
  if (!practises(session) || !practice) return tell_off(session);
  align::Sighting sighting;
  if (const dish::Round* shown = shown_round(session)) {
    sighting = align::sighting_of(session.document.dish, *shown);
  } else {
    sighting = align::sighting_of(session.document.dish, {});
  }
  align::Draws draws(work.seed, work.looks++, k_looking);
  align::Camera camera;
  camera.missed = 0.0;
  camera.false_spots = 0.0;
  std::vector<dish::Spot> spots;
  for (std::size_t k = 0; k < session.document.dish.facets.size(); ++k) {
    // One facet uncovered after the other: nobody has to guess whose spot it is.
    const auto seen = align::observe(
        practice.value(), work.hidden, sighting, {k}, camera,
        align::spot_diameter_m(session.document.dish.focal_length_m, 0.0, camera.hole_m), draws);
    if (seen.spots.empty()) continue;
    spots.push_back(
        {session.document.dish.facets[k].id, seen.spots.front().board_m, camera.spot_sigma_m});
  }
  work.told_rms_rad.reset();
  if (!add_round(session, std::move(spots), "Look at the practice dish")) return;
  session.plan_request.spot_is_centroid = false;
}

void carry_out(Session& session, const act::PracticeTell& /*wish*/) {
  if (!practises(session)) return;
  session.practice.told_rms_rad = rms_left(session);
}

void carry_out(Session& session, const act::EndPractice& /*wish*/) { session.practice = {}; }

}  // namespace session
