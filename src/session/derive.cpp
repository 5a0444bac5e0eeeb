// One function for each derived result; derive() calls them in the order they build on each other.
#include "session/derive.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "adjusters/turns.h"
#include "optics/canting.h"
#include "optics/scene.h"
#include "session/jobs.h"
#include "session/photos.h"
#include "session/spots.h"
#include "session/trial.h"

namespace session {
namespace {

/// Takes a result over as made from the present revision.
template <class T>
void settle(Derived<T>& derived, base::Result<T> result, std::uint64_t revision) {
  derived.revision = revision;
  derived.value.reset();
  derived.problems.clear();
  if (result) {
    derived.value = std::move(result).value();
  } else {
    derived.problems = result.problems();
  }
}

/// What is to be made anew: all of it, or the facets at these places of the dish.
struct Scope {
  bool everything = false;
  std::vector<std::size_t> facets;
};

Scope scope_of(const Session& session) {
  const Pending& pending = session.pending;
  Scope scope{.everything =
                  pending.touched.everything || pending.revision != session.document.revision};
  for (const dish::FacetId& id : pending.touched.facets) {
    const std::size_t facet = dish::find_facet(session.document.dish, id);
    scope.everything = scope.everything || facet == dish::k_no_facet;
    scope.facets.push_back(facet);
  }
  return scope;
}

optics::LiveSettings live_settings(const Session& session) {
  return {.tracking_error_rad = session.tracking_error_rad};
}

base::Result<optics::LiveState> light_of_facets(optics::LiveState state, const dish::Dish& dish,
                                                const std::vector<std::size_t>& facets) {
  for (const std::size_t facet : facets) {
    auto next = optics::reevaluate(std::move(state), dish, facet);
    if (!next) return next.problems();
    state = std::move(next).value();
  }
  return state;
}

void update_live(Session& session, const Scope& scope) {
  const dish::Dish& dish = session.document.dish;
  const std::uint64_t revision = session.document.revision;
  Derived<optics::LiveState>& live = session.live;
  const bool nothing_known = !live.value && live.problems.empty();
  if (scope.everything || session.pending.sun || nothing_known ||
      (!live.value && !scope.facets.empty())) {
    settle(live,
           optics::evaluate(dish, live_settings(session), live.value ? &*live.value : nullptr),
           revision);
  } else if (!scope.facets.empty()) {
    optics::LiveState before = std::move(*live.value);
    settle(live, light_of_facets(std::move(before), dish, scope.facets), revision);
  }
  live.revision = revision;
}

/// Nominal poses and caliper heights of the facets at these places; one problem for each that has
/// none.
base::Result<std::vector<adjusters::FacetPreset>> presets_at(
    const dish::Dish& dish, const std::vector<std::size_t>& facets) {
  std::vector<adjusters::FacetPreset> presets;
  base::Problems problems;
  const auto note = [&](const base::Problems& more) {
    problems.insert(problems.end(), more.begin(), more.end());
  };
  for (const std::size_t facet : facets) {
    const auto nominal = optics::nominal_pose(dish, dish.facets[facet]);
    if (!nominal) {
      note(nominal.problems());
      continue;
    }
    auto preset = adjusters::preset_of(dish, dish.facets[facet], nominal.value());
    if (preset) {
      presets.push_back(std::move(preset).value());
    } else {
      note(preset.problems());
    }
  }
  if (!problems.empty()) return problems;
  return presets;
}

/// The least that any of a facet's screws has left either way; 0 without screws.
double least_travel_m(const dish::Dish& dish, const dish::Facet& facet) {
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  if (mount == nullptr || mount->adjusters.size() != 3) return 0.0;
  const dish::Spring* spring = dish::find_spring(dish, mount->spring);
  double least = 0.0;
  for (std::size_t k = 0; k < 3; ++k) {
    const auto left = adjusters::travel_left(mount->adjusters[k], spring, facet.displacement_m[k]);
    const double nearer = std::min(left.toward_sun_m, left.toward_bracket_m);
    least = k == 0 ? nearer : std::min(least, nearer);
  }
  return least;
}

base::Result<Stance> stance_of(const dish::Dish& dish, const dish::Facet& facet,
                               const adjusters::FacePose& nominal) {
  const auto bracket = adjusters::bracket_of(facet, dish::find_mount(dish, facet.mount), nominal);
  if (!bracket) return bracket.problems();
  Stance stance{.nominal = nominal,
                .built = adjusters::displaced_pose(bracket.value(), nominal, facet.displacement_m),
                .travel_left_m = least_travel_m(dish, facet)};
  // The angle by its sine and cosine: the cosine alone loses all digits of a small angle.
  stance.tilt_rad = std::atan2(glm::length(glm::cross(nominal.normal, stance.built.normal)),
                               glm::dot(nominal.normal, stance.built.normal));
  return stance;
}

base::Result<std::vector<Stance>> stances_at(const dish::Dish& dish,
                                             const std::vector<adjusters::FacetPreset>& presets,
                                             const std::vector<std::size_t>& facets) {
  std::vector<Stance> stances;
  for (std::size_t i = 0; i < facets.size(); ++i) {
    auto stance = stance_of(dish, dish.facets[facets[i]], presets[i].nominal);
    if (!stance) return stance.problems();
    stances.push_back(std::move(stance).value());
  }
  return stances;
}

std::vector<std::size_t> all_facets(const dish::Dish& dish) {
  std::vector<std::size_t> facets(dish.facets.size());
  for (std::size_t i = 0; i < facets.size(); ++i) facets[i] = i;
  return facets;
}

/// Presets and stances go together: both follow from the nominal poses.
void update_presets(Session& session, const Scope& scope) {
  const dish::Dish& dish = session.document.dish;
  const std::uint64_t revision = session.document.revision;
  const bool anew = scope.everything || (!session.presets.value && !scope.facets.empty());
  const std::vector<std::size_t> facets = anew ? all_facets(dish) : scope.facets;
  auto presets = presets_at(dish, facets);
  auto stances = presets ? stances_at(dish, presets.value(), facets)
                         : base::Result<std::vector<Stance>>(presets.problems());
  if (anew || !presets || !stances) {
    settle(session.presets, std::move(presets), revision);
    settle(session.stances, std::move(stances), revision);
    return;
  }
  for (std::size_t i = 0; i < facets.size(); ++i) {
    (*session.presets.value)[facets[i]] = presets.value()[i];
    (*session.stances.value)[facets[i]] = stances.value()[i];
  }
  session.presets.revision = revision;
  session.stances.revision = revision;
}

void update_plan(Session& session) {
  const dish::Dish& dish = session.document.dish;
  Derived<align::Plan>& plan = session.plan;
  if (!session.pending.plan && plan.revision == session.document.revision) return;
  if (dish.rounds.empty() || !dish::has_observations(dish.rounds[session.round])) {
    plan = {};
    plan.revision = session.document.revision;
    return;
  }
  settle(plan, align::make_plan(dish, dish.rounds[session.round], session.plan_request),
         session.document.revision);
}

/// What a trial of the screws says, while one of its rounds is shown.
void update_trial(Session& session) {
  Derived<align::NudgeVerdict>& trial = session.trial;
  const auto shown = shown_trial(session);
  if (!shown || !align::is_over(*shown)) {
    trial = {};
    return;
  }
  if (trial.revision == session.document.revision && !session.pending.plan) return;
  settle(trial, align::read_nudge(session.document.dish, *shown, session.plan_request.spot_sigma_m),
         session.document.revision);
}

void update_findings(Session& session) {
  if (session.findings.revision == session.document.revision) return;
  settle(session.findings,
         base::Result<std::vector<dish::Finding>>(dish::check(session.document.dish)),
         session.document.revision);
}

/// What is selected and shown must be there: an edit or another dish may have taken it away.
void keep_in_reach(Session& session) {
  const dish::Dish& dish = session.document.dish;
  const auto gone = [&](const std::optional<dish::FacetId>& facet) {
    return facet && dish::find_facet(dish, *facet) == dish::k_no_facet;
  };
  if (gone(session.selection.hovered)) session.selection.hovered.reset();
  if (gone(session.selection.selected)) session.selection = {.hovered = session.selection.hovered};
  const std::size_t last = dish.rounds.empty() ? 0 : dish.rounds.size() - 1;
  session.round = std::min(session.round, last);
}

}  // namespace

void derive(Session& session) {
  keep_in_reach(session);
  const Scope scope = scope_of(session);
  const bool light_changed = scope.everything || !scope.facets.empty() || session.pending.sun;
  update_live(session, scope);
  update_presets(session, scope);
  update_plan(session);
  update_findings(session);
  update_trial(session);
  if (light_changed) session.shadows = {};
  if (session.pending.plan) {
    session.story.revision = 0;
    session.expected = {};
  }
  if (session.story_rounds != session.document.dish.rounds) session.story = {};
  photos_follow_dish(session);
  follow_light(session, light_changed);
  session.pending = {
      .touched = {}, .revision = session.document.revision, .sun = false, .plan = false};
}

void derive_story(Session& session) {
  const bool is_shown = session.stage == Stage::align && !session.document.dish.rounds.empty();
  if (!is_shown || session.story.revision == session.document.revision) return;
  session.story_rounds = session.document.dish.rounds;
  settle(session.story, align::tell_rounds(session.document.dish, {.plan = session.plan_request}),
         session.document.revision);
}

void derive_expected(Session& session) {
  if (session.stage != Stage::align || session.document.dish.rounds.empty()) return;
  if (session.expected.revision == session.document.revision) return;
  settle(session.expected, tasks::run(session.document.dish, marks_request(session)),
         session.document.revision);
}

void derive_shadows(Session& session) {
  const bool is_shown = session.stage == Stage::light || session.preferences.tint == Tint::shadow;
  if (!is_shown || session.shadows.value || !session.live.value) return;
  session.shadows.value = optics::find_shadows(*session.live.value->scene);
  session.shadows.revision = session.document.revision;
}

}  // namespace session
