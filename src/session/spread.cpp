// The turns stand in a round of their own before anybody has made them.
#include "session/spread.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.h"
#include "naming/tilt_array.h"
#include "session/carry.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/spots.h"
#include "session/told.h"

namespace session {
namespace {

/// The nearest clicks from where a facet's screws stand to where the array wants them.
void tell_turns(const dish::Facet& facet, const align::FacetSetup& setup,
                const naming::ArrayTurns& array, std::vector<dish::Turned>& told) {
  for (std::size_t k = 0; k < 3; ++k) {
    const double rise_m = array.displacement_m[k] - facet.displacement_m[k];
    const double clicks = std::round(rise_m / setup.rise_per_turn_m[k] * array.clicks_per_turn);
    if (clicks == 0.0) continue;
    told.push_back({facet.id, setup.mount->adjusters[k].label, clicks / array.clicks_per_turn});
  }
}

/// Whether the screws can hold the array at all.
bool is_in_reach(const std::vector<naming::ArrayTurns>& array) {
  return std::all_of(array.begin(), array.end(),
                     [](const naming::ArrayTurns& turns) { return turns.in_reach; });
}

struct Spread {
  double pitch_m = 0.0;
  std::vector<naming::ArrayTurns> array;
};

/// The array that is asked for, or the widest in steps of a twentieth that the screws can hold.
base::Result<Spread> widest_spread(const dish::Dish& dish, const align::Sighting& sighting) {
  for (int share = 20; share > 0; --share) {
    const double pitch_m = k_spread_pitch_m * share / 20.0;
    if (pitch_m < k_least_spread_m) break;
    auto array = naming::tilt_array(dish, sighting, pitch_m);
    if (!array) return array.problems();
    if (is_in_reach(array.value())) return Spread{pitch_m, std::move(array).value()};
  }
  return base::Problem{"the screws' travel",
                       fmt::format("too short to set neighbouring spots {:.0f} mm apart",
                                   base::mm_from_m(k_least_spread_m)),
                       "a board inside the focus instead"};
}

}  // namespace

bool can_spread(const Session& session) {
  const dish::Round* round = shown_round(session);
  return !session.document.dish.facets.empty() &&
         (round == nullptr || !is_prescribed(*round) || !turns_are_open(session));
}

void carry_out(Session& session, const act::SpreadSpots& /*wish*/) {
  const dish::Dish& dish = session.document.dish;
  dish::Round round{.name = naming::spread_round_name(dish)};
  const auto spread = widest_spread(dish, align::sighting_of(dish, round));
  if (!spread) {
    tell_problems(session, "The spots cannot be spread", spread.problems());
    return;
  }
  for (const naming::ArrayTurns& turns : spread.value().array) {
    const dish::Facet& facet = dish.facets[turns.facet];
    tell_turns(facet, align::set_up(dish, facet).value(), turns, round.told);
  }
  if (!change(session, {dish::edit::AddRound{std::move(round)}}, "Spread the spots on purpose"))
    return;
  show_round(session, session.document.dish.rounds.size());
  tell(session,
       {.title = fmt::format("Each spot gets a place of its own, {:.0f} mm from the next",
                             base::mm_from_m(spread.value().pitch_m)),
        .lines = {"Make these turns, then photograph a board at the focus: the spots lie on it as "
                  "the facets do. The turns of that round bring them together."}});
}

}  // namespace session
