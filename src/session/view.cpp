// Wishes that change what is shown and how, and leave the dish alone.
#include <algorithm>
#include <cmath>

#include "dish/ranges.h"
#include "session/carry.h"
#include "session/notices.h"
#include "session/spots.h"

namespace session {
namespace {

constexpr double k_most_exposure_stops = 8.0;

/// Only facets that are there can be pointed at.
std::optional<dish::FacetId> known(const Session& session,
                                   const std::optional<dish::FacetId>& facet) {
  if (!facet || dish::find_facet(session.document.dish, *facet) == dish::k_no_facet) return {};
  return facet;
}

}  // namespace

void carry_out(Session& session, const act::GoToStage& wish) { session.stage = wish.stage; }

void carry_out(Session& session, const act::Hover& wish) {
  session.selection.hovered = known(session, wish.facet);
}

void carry_out(Session& session, const act::Select& wish) {
  session.selection.selected = known(session, wish.facet);
  const bool has_screw = session.selection.selected && wish.screw >= 0 && wish.screw < 3;
  session.selection.screw = has_screw ? wish.screw : -1;
}

void carry_out(Session& session, const act::SelectNext& wish) {
  const dish::Dish& dish = session.document.dish;
  if (dish.facets.empty()) return;
  const auto count = static_cast<std::ptrdiff_t>(dish.facets.size());
  std::ptrdiff_t next = wish.step > 0 ? 0 : count - 1;
  if (session.selection.selected) {
    const auto now =
        static_cast<std::ptrdiff_t>(dish::find_facet(dish, *session.selection.selected));
    next = ((now + wish.step) % count + count) % count;
  }
  session.selection.selected = dish.facets[static_cast<std::size_t>(next)].id;
}

void carry_out(Session& session, const act::SetTint& wish) { session.preferences.tint = wish.tint; }

void carry_out(Session& session, const act::SetTheme& wish) {
  session.preferences.theme = wish.theme;
}

void carry_out(Session& session, const act::SetSide& wish) { session.preferences.side = wish.side; }

void carry_out(Session& session, const act::SetExposure& wish) {
  if (!std::isfinite(wish.stops)) return;
  session.preferences.exposure_stops =
      std::clamp(wish.stops, -k_most_exposure_stops, k_most_exposure_stops);
}

void carry_out(Session& session, const act::SetPictureRays& wish) {
  session.preferences.picture_rays = std::clamp(wish.rays, 0, k_picture_rays.back());
}

void carry_out(Session& session, const act::SetTrackingError& wish) {
  base::Problems problems;
  for (const double error : {wish.error_rad.x, wish.error_rad.y}) {
    const auto problem =
        dish::ranges::problem_of(dish::ranges::Quantity::tracking_error, error, "the sun's place");
    if (problem) problems.push_back(*problem);
  }
  if (!problems.empty()) {
    tell_problems(session, "The sun was not moved", problems);
    return;
  }
  if (wish.error_rad == session.tracking_error_rad) return;
  session.tracking_error_rad = wish.error_rad;
  session.pending.sun = true;
}

void carry_out(Session& session, const act::SetPlanRequest& wish) {
  session.plan_request = wish.request;
  session.pending.plan = true;
}

void carry_out(Session& session, const act::SetRound& wish) {
  if (wish.round < session.document.dish.rounds.size()) show_round(session, wish.round);
}

void carry_out(Session& session, const act::ShowKeys& wish) {
  session.preferences.keys_shown = wish.show;
}

}  // namespace session
