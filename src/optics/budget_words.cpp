// Names of the causes, and what to tell a person about them.
#include <fmt/format.h>

#include <algorithm>

#include "optics/budget.h"
#include "optics/budget_advice.h"

namespace optics {
namespace {

struct Naming {
  const char* key;
  const char* words;
  Remedy remedy;
  const char* doing;  ///< what bettering it means, as the start of a sentence
};

/// In the order of the causes.
constexpr std::array<Naming, k_causes> k_namings{{
    {"sun_size", "size of the sun", Remedy::none, "A smaller sun"},
    {"circumsolar", "bright sky around the sun", Remedy::none, "A clearer sky"},
    {"slope", "waviness of the facets (slope error)", Remedy::mirrors,
     "Facets without slope error"},
    {"specularity", "haze of the facets (specularity error)", Remedy::mirrors,
     "Facets without haze"},
    {"form", "form errors of the facets", Remedy::mirrors, "Facets free of form errors"},
    {"adjustment", "facets that do not point at their aim", Remedy::by_hand,
     "Turning the screws until every facet points at its aim"},
    {"surface", "facets not formed for their own place", Remedy::mirrors,
     "Forming each facet for its own place"},
    {"tracking", "tracking error", Remedy::by_hand, "Pointing the dish straight at the sun"},
    {"secondary", "slope error and haze of the secondary", Remedy::mirrors,
     "A secondary without slope error and haze"},
    {"shading", "shadows on the facets", Remedy::layout, "Taking everything out of the sunlight"},
    {"blocking", "things in the way of the reflected light", Remedy::layout,
     "Clearing the way of the reflected light"},
    {"reflectance", "light that the mirrors absorb", Remedy::mirrors,
     "Mirrors that absorb nothing"},
    {"soiling", "dirt on the mirrors", Remedy::by_hand, "Washing the mirrors"},
    {"receiver_size", "light past the receiver's edge", Remedy::layout,
     "A receiver wide enough for all the light"},
}};

const Naming& naming(Cause cause) { return k_namings[static_cast<std::size_t>(cause)]; }

constexpr double k_sure = 3.0;     ///< standard errors above which a gain is told
constexpr double k_worth = 0.002;  ///< share of the receiver's watts above which it is

/// "312 W more (8.1 % of what arrives now)".
std::string gain_text(const CauseCost& cost, double as_is_W) {
  return fmt::format("{:.{}f} W more ({:.1f} % of what arrives now)", cost.gain_W,
                     cost.gain_W < 100.0 ? 1 : 0, 100.0 * cost.gain_W / as_is_W);
}

const CauseCost* best_of(const Budget& budget, Remedy remedy) {
  const CauseCost* best = nullptr;
  for (const CauseCost& cost : budget.costs) {
    if (remedy_of(cost.cause) != remedy) continue;
    const bool is_sure = cost.gain_W > k_sure * cost.gain_error_W;
    if (!is_sure || cost.gain_W < k_worth * budget.as_is_W) continue;
    if (best == nullptr || cost.gain_W > best->gain_W) best = &cost;
  }
  return best;
}

}  // namespace

const char* key_of(Cause cause) { return naming(cause).key; }
const char* words_of(Cause cause) { return naming(cause).words; }
Remedy remedy_of(Cause cause) { return naming(cause).remedy; }

const char* key_of(Remedy remedy) {
  switch (remedy) {
    case Remedy::by_hand:
      return "by_hand";
    case Remedy::mirrors:
      return "mirrors";
    case Remedy::layout:
      return "layout";
    case Remedy::none:
      break;
  }
  return "none";
}

const char* words_of(Remedy remedy) {
  switch (remedy) {
    case Remedy::by_hand:
      return "by hand";
    case Remedy::mirrors:
      return "other mirrors";
    case Remedy::layout:
      return "another layout";
    case Remedy::none:
      break;
  }
  return "nobody can";
}

std::vector<std::string> advice_for(const Budget& budget) {
  if (!(budget.as_is_W > 0.0)) {
    return {
        fmt::format("No light reaches the receiver as the dish stands; perfect it would take "
                    "{:.0f} W. Look first where the light goes.",
                    budget.perfect_W)};
  }
  struct Part {
    Remedy remedy;
    const char* would;
    const char* best;
  };
  constexpr std::array<Part, 3> k_parts{
      {{Remedy::by_hand, "would bring", "the best that needs no new parts"},
       {Remedy::mirrors, "would bring at most", "the best that other mirrors can do"},
       {Remedy::layout, "would bring at most", "the best that another layout can do"}}};
  std::vector<std::string> advice;
  for (const Part& part : k_parts) {
    const CauseCost* cost = best_of(budget, part.remedy);
    if (cost == nullptr) continue;
    advice.push_back(fmt::format("{} {} {}: {}.", naming(cost->cause).doing, part.would,
                                 gain_text(*cost, budget.as_is_W), part.best));
  }
  if (advice.empty()) {
    advice.push_back(
        fmt::format("No single improvement brings more than {:.1f} %.", 100.0 * k_worth));
  }
  return advice;
}

}  // namespace optics
