// The hidden dish lives beside the document: the log, the plan and all views see only its spots.
#include "session/practice.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "align/labels.h"
#include "align/observe.h"
#include "align/rewire.h"
#include "base/units.h"
#include "practice/camera.h"
#include "session/carry.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/spots.h"
#include "session/trial.h"

namespace session {
namespace {

// Purposes of random numbers: what is hidden, looks, turns.
constexpr std::uint32_t k_hiding = 0;
constexpr std::uint32_t k_looking = 1;
constexpr std::uint32_t k_turning = 2;
constexpr std::uint32_t k_faults = 3;
constexpr double k_fault_chance = 0.75;

double rms_left(const Session& session) {
  const auto practice = practice::set_up(session.practice.built);
  if (!practice) return 0.0;
  const auto tilts = practice::tilts_left(practice.value(), session.practice.hidden);
  double square = 0.0;
  for (const double tilt : tilts) square += tilt * tilt;
  return tilts.empty() ? 0.0 : std::sqrt(square / static_cast<double>(tilts.size()));
}

/// Wires the screws of every mount in one of the ways people get wrong, or leaves them.
void draw_fault(PracticeWork& work) {
  practice::Draws draws(work.seed, 0, k_faults);
  if (!draws.chance(k_fault_chance)) return;
  const auto mounts = work.built.mounts;
  for (const dish::Mount& mount : mounts) {
    if (mount.adjusters.size() != 3) continue;
    const auto ways = align::facet_hypotheses(mount);
    const auto way = 1 + static_cast<std::size_t>(draws.uniform() * (ways.size() - 1.0));
    const auto edits = align::rewire(work.built, mount.name, ways[way].wiring);
    if (!edits) continue;
    for (const dish::Edit& edit : edits.value()) {
      auto changed = dish::apply(work.built, edit);
      if (changed) work.built = std::move(changed).value();
    }
    work.fault += (work.fault.empty() ? "" : "; ") + ways[way].words;
  }
}

/// Where the hidden dish's spots of these facets lie, each uncovered alone: nobody has to guess
/// whose spot it is.
std::vector<dish::Spot> hidden_spots(Session& session, const dish::Round& round,
                                     const std::vector<std::size_t>& facets) {
  PracticeWork& work = session.practice;
  std::vector<dish::Spot> spots;
  const auto practice = practice::set_up(work.built);
  if (!practice) return spots;
  const align::Sighting sighting = align::sighting_of(work.built, round);
  practice::Draws draws(work.seed, work.looks++, k_looking);
  practice::Camera camera;
  camera.missed = 0.0;
  camera.false_spots = 0.0;
  const double diameter_m =
      practice::spot_diameter_m(work.built.focal_length_m, 0.0, camera.hole_m);
  for (const std::size_t k : facets) {
    const auto seen =
        practice::observe(practice.value(), work.hidden, sighting, {k}, camera, diameter_m, draws);
    if (seen.spots.empty()) continue;
    spots.push_back({work.built.facets[k].id, seen.spots.front().board_m, camera.spot_sigma_m});
  }
  work.told_rms_rad.reset();
  return spots;
}

void tell_off(Session& session) {
  session.practice.on = false;
  tell(session, {.kind = Notice::Kind::note,
                 .title = "The practice is over",
                 .lines = {"Another dish is open, or its facets have changed."}});
}

}  // namespace

bool practises(const Session& session) {
  const auto& hidden = session.practice.built.facets;
  const auto& open = session.document.dish.facets;
  return session.practice.on &&
         std::equal(hidden.begin(), hidden.end(), open.begin(), open.end(),
                    [](const dish::Facet& a, const dish::Facet& b) { return a.id == b.id; });
}

void look_at_trial(Session& session) {
  const auto trial = shown_trial(session);
  if (!trial || trial->is_seen || !practises(session)) return;
  for (const dish::Spot& spot : hidden_spots(session, *shown_round(session), trial->facets)) {
    change(session, {dish::edit::SetSpot{session.round, spot}}, "Look at the practice dish");
  }
  session.plan_request.spot_is_centroid = false;
}

void turn_hidden(Session& session, const std::vector<dish::Turned>& turned) {
  PracticeWork& work = session.practice;
  if (!work.on) return;
  const auto practice = practice::set_up(work.built);
  if (!practises(session) || !practice) return tell_off(session);
  std::vector<naming::ToldTurns> told;
  for (const dish::Turned& one : turned) {
    const std::size_t facet = dish::find_facet(work.built, one.facet);
    if (facet == dish::k_no_facet) continue;
    if (told.empty() || told.back().facet != facet) told.push_back({.facet = facet, .turns = {}});
    const dish::Mount& mount = *practice.value().setups[facet].mount;
    for (std::size_t k = 0; k < 3; ++k) {
      if (mount.adjusters[k].label == one.screw) told.back().turns[k] += one.turns;
    }
  }
  practice::Draws draws(work.seed, work.turns++, k_turning);
  practice::turn(practice.value(), work.hidden, told, {}, draws);
  work.told_rms_rad.reset();
}

void carry_out(Session& session, const act::StartPractice& wish) {
  PracticeWork work{.on = true,
                    .seed = wish.seed,
                    .start_rad = std::clamp(wish.start_rad, 1e-4, 0.03),
                    .built = session.document.dish,
                    .hidden = {}};
  if (wish.faults) draw_fault(work);
  const auto practice = practice::set_up(work.built);
  if (!practice) {
    tell_problems(session, "This dish cannot be practised on", practice.problems());
    return;
  }
  practice::Draws draws(work.seed, 0, k_hiding);
  work.hidden = practice::hide(practice.value(), {.tilt_rad = work.start_rad}, draws);
  session.practice = std::move(work);
  session.practice.start_rms_rad = rms_left(session);
  tell(
      session,
      {.title = fmt::format("Practice {} has begun", wish.seed),
       .lines = {"Every facet of a hidden dish stands off by an amount you do not know. Look, turn "
                 "what you are told, look again; ask at the end what is left."}});
}

void carry_out(Session& session, const act::PracticeLook& /*wish*/) {
  if (!session.practice.on) return;
  if (!practises(session)) return tell_off(session);
  std::vector<std::size_t> all(session.document.dish.facets.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  const dish::Round* shown = shown_round(session);
  auto spots = hidden_spots(session, shown != nullptr ? *shown : dish::Round{}, all);
  if (!add_round(session, std::move(spots), "Look at the practice dish")) return;
  session.plan_request.spot_is_centroid = false;
}

void carry_out(Session& session, const act::PracticeTell& /*wish*/) {
  if (!practises(session)) return;
  session.practice.told_rms_rad = rms_left(session);
}

void carry_out(Session& session, const act::EndPractice& /*wish*/) { session.practice = {}; }

}  // namespace session
