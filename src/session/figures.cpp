// Reads the derived results for what panels show: what is shown, corrections, colours.
#include "session/figures.h"

#include <algorithm>

namespace session {
namespace {

std::optional<std::size_t> place_of(const Session& session,
                                    const std::optional<dish::FacetId>& facet) {
  if (!facet) return {};
  const std::size_t place = dish::find_facet(session.document.dish, *facet);
  if (place == dish::k_no_facet) return {};
  return place;
}

}  // namespace

const dish::Round* shown_round(const Session& session) {
  const auto& rounds = session.document.dish.rounds;
  return session.round < rounds.size() ? &rounds[session.round] : nullptr;
}

std::optional<std::size_t> selected_facet(const Session& session) {
  return place_of(session, session.selection.selected);
}

std::optional<std::size_t> highlighted_facet(const Session& session) {
  const auto hovered = place_of(session, session.selection.hovered);
  return hovered ? hovered : selected_facet(session);
}

dish::Side side_of(const Session& session) {
  return session.preferences.side.value_or(dish::Side::back);
}

bool shows_full_trace(const Session& session) {
  return session.full.state == FullTrace::State::done && session.full.result &&
         session.full.revision == session.document.revision;
}

const optics::TraceResult* light_of(const Session& session) {
  if (shows_full_trace(session)) return &*session.full.result;
  return is_fresh(session, session.live) ? &session.live.value->figures : nullptr;
}

const align::Correction* correction_of(const Session& session, const dish::FacetId& facet) {
  if (!is_fresh(session, session.plan)) return nullptr;
  for (const align::Correction& correction : session.plan.value->facets)
    if (correction.id == facet) return &correction;
  return nullptr;
}

std::optional<base::Vec2> seen_spot(const Session& session, const dish::FacetId& facet) {
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return {};
  for (const dish::Spot& spot : round->spots)
    if (spot.facet == facet) return spot.seen_m;
  return {};
}

std::vector<WattShare> watt_shares(const optics::Ledger& ledger) {
  const std::vector<WattShare> all = {
      {"not facing the sun", "lost because the dish does not face the sun squarely",
       ledger.cosine_W},
      {"gaps",
       "sunlight on the aperture that meets no facet; less than nothing where facets overlap as "
       "seen from the sun",
       ledger.gaps_W},
      {"shading", "stopped on the way in by the secondary, the receiver, struts or a neighbour",
       ledger.shading_W},
      {"facet mirrors", "absorbed or scattered by the facets' reflectance",
       ledger.facet_absorption_W},
      {"blocking", "stopped after a facet, before the next thing it should meet",
       ledger.blocking_W},
      {"past the secondary", "passed the secondary's rim or fell through its hole",
       ledger.secondary_missed_W},
      {"secondary mirror", "absorbed by the secondary's reflectance",
       ledger.secondary_absorption_W},
      {"spillage", "reached the receiver's plane outside its edge, or never reached it",
       ledger.spillage_W},
      {"thrown back", "reflected by the receiver's own surface", ledger.receiver_reflection_W},
      {"into the receiver",
       "absorbed by the receiver; what becomes of it as heat is not counted here",
       ledger.receiver_absorbed_W, false}};
  std::vector<WattShare> shares;
  for (WattShare share : all) {
    if (share.watts == 0.0) continue;
    share.of_incident = ledger.incident_W > 0.0 ? share.watts / ledger.incident_W : 0.0;
    shares.push_back(std::move(share));
  }
  return shares;
}

base::Vec2 receiver_half_m(const Session& session) {
  const auto& shape = session.document.dish.receiver.shape;
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&shape)) {
    return base::Vec2(0.5 * disc->diameter_m);
  }
  const auto& rectangle = std::get<dish::RectangleReceiver>(shape);
  return {0.5 * rectangle.width_m, 0.5 * rectangle.height_m};
}

std::optional<double> tint_value(const Session& session, std::size_t facet) {
  if (facet >= session.document.dish.facets.size()) return {};
  const auto stance = [&]() -> const Stance* {
    return is_fresh(session, session.stances) ? &(*session.stances.value)[facet] : nullptr;
  };
  switch (session.preferences.tint) {
    case Tint::power: {
      const optics::TraceResult* light = light_of(session);
      if (light == nullptr || facet >= light->facets.size()) return {};
      return light->facets[facet].power_W;
    }
    case Tint::spread: {
      const optics::TraceResult* light = light_of(session);
      if (light == nullptr || facet >= light->facets.size()) return {};
      return light->facets[facet].rms_radius_m;
    }
    case Tint::tilt:
      if (const Stance* s = stance(); s != nullptr) return s->tilt_rad;
      return {};
    case Tint::travel:
      if (const Stance* s = stance(); s != nullptr) return s->travel_left_m;
      return {};
    case Tint::plain:
    case Tint::kind:
    case Tint::shadow:
      return {};
  }
  return {};
}

std::optional<TintSpan> tint_span(const Session& session) {
  std::optional<TintSpan> span;
  for (std::size_t i = 0; i < session.document.dish.facets.size(); ++i) {
    const auto value = tint_value(session, i);
    if (!value) continue;
    if (!span) span = TintSpan{*value, *value};
    span->least = std::min(span->least, *value);
    span->most = std::max(span->most, *value);
  }
  return span;
}

}  // namespace session
