// What each error costs: one cause at a time made perfect, and one at a time added to the perfect
// dish, in watts and in the width of the spot, with the same random points throughout.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/merit.h"
#include "optics/trace_result.h"

namespace optics {

/// What can keep a watt from the receiver. Made perfect means:
enum class Cause : std::uint8_t {
  sun_size,       ///< a sun without size, its aureole gone with it
  circumsolar,    ///< no aureole: all its light in the disc
  slope,          ///< facets without slope error
  specularity,    ///< facets without specularity error
  form,           ///< facets without form error and with sharp edges
  adjustment,     ///< every facet aims at its aim point: no displacement, no normal of its own
  surface,        ///< every facet its own piece of the paraboloid that focuses on its aim
  tracking,       ///< the sun on the axis
  secondary,      ///< the secondary without slope and specularity error
  shading,        ///< nothing stops light before the facets
  blocking,       ///< nothing stops light after the facets
  reflectance,    ///< mirrors that absorb nothing when clean
  soiling,        ///< clean mirrors
  receiver_size,  ///< a receiver that takes all its plane's light
};
inline constexpr std::size_t k_causes = 14;
inline constexpr std::array<Cause, k_causes> k_all_causes{
    Cause::sun_size,   Cause::circumsolar, Cause::slope,    Cause::specularity,  Cause::form,
    Cause::adjustment, Cause::surface,     Cause::tracking, Cause::secondary,    Cause::shading,
    Cause::blocking,   Cause::reflectance, Cause::soiling,  Cause::receiver_size};

/// Stable key for files and scripts: "sun_size", ...
const char* key_of(Cause cause);
/// Words for a person: "size of the sun", ...
const char* words_of(Cause cause);

/// What a person has to change.
enum class Remedy : std::uint8_t {
  by_hand,  ///< turn screws, set the tracking right, wash
  mirrors,  ///< other mirrors
  layout,   ///< another place or size of parts
  none,     ///< the sun itself
};
Remedy remedy_of(Cause cause);
const char* key_of(Remedy remedy);
const char* words_of(Remedy remedy);  ///< "by hand", "other mirrors", ...

struct BudgetSettings {
  std::uint64_t rays = 50'000;  ///< for each of the dishes compared; rounded up to whole chunks
  std::uint64_t seed = 1;
  base::Vec2 tracking_error_rad{0.0, 0.0};
  int workers = 1;  ///< native threads; results do not depend on it
};

/// Every difference is between two traces with the same random points, and its standard error from
/// the eight independent copies of them that both traces hold.
struct CauseCost {
  Cause cause = Cause::sun_size;
  bool is_present = false;    ///< this dish has it; without it all figures are 0
  double gain_W = 0.0;        ///< more on the receiver when this alone is perfect
  double gain_error_W = 0.0;  ///< standard error
  double loss_W = 0.0;  ///< less on the receiver when this alone is added to the perfect dish,
                        ///< which has the receiver as it is
  double loss_error_W = 0.0;
  double narrower_m = 0.0;  ///< rms radius of the spot as it is, less the one with this perfect
  double blur_m = 0.0;      ///< rms radius it gives the perfect dish's spot, others gone
  double blur_rad = 0.0;    ///< the same seen from the mean facet: blur over length of way
};

struct Budget {
  std::vector<CauseCost> costs;  ///< what can be changed by gain, greatest first; then the rest
  double as_is_W = 0.0;          ///< on the receiver
  double as_is_error_W = 0.0;    ///< standard error
  double perfect_W = 0.0;        ///< all causes perfect at once, on the receiver as it is
  double together_W = 0.0;       ///< perfect less as it is
  double sum_of_gains_W = 0.0;   ///< of present causes; differs from `together`: causes overlap
  double sum_of_losses_W = 0.0;
  double rms_radius_m = 0.0;         ///< of the spot as it is, about its own middle
  double quadrature_radius_m = 0.0;  ///< root of the sum of squares of all blurs: close to that
                                     ///< where causes are independent and small
  double mean_way_m = 0.0;           ///< from the facets to the receiver, the length of the chiefs
  TraceResult as_is;                 ///< the whole trace, with its ledger
  Merit merit;
  std::vector<std::string> advice;  ///< sentences for a person, most important first
};

/// Problems: those of make_scene; "cancelled".
base::Result<Budget> budget(const dish::Dish& dish, const BudgetSettings& settings,
                            const base::Progress& progress = {});

}  // namespace optics
