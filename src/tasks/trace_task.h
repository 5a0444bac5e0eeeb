// The answer "trace": the dish as built under the sun, by rays: spot, flux, watts and where each
// watt went.
#pragma once

#include <optional>
#include <string>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/further_hits.h"
#include "optics/trace.h"
#include "optics/trace_result.h"

namespace tasks {

struct TraceRequest {
  optics::TraceSettings settings;      ///< its only_facet is set from `facet`
  std::optional<dish::FacetId> facet;  ///< trace this facet alone
  bool with_map = false;               ///< put the flux map into the JSON reply
  bool with_further_hits = false;      ///< also follow light that meets a second mirror
};

struct TraceReply {
  optics::TraceResult result;
  dish::Sun sun;  ///< what it was traced under
  bool with_map = false;
  std::optional<optics::FurtherHits> further_hits;
};

/// Rays that are followed further: each looks at all facets.
inline constexpr std::uint64_t k_most_further_rays = 200'000;

/// Problems: an unknown facet, those of optics::trace, "cancelled".
base::Result<TraceReply> run(const dish::Dish& dish, const TraceRequest& request,
                             const base::Progress& progress = {});

/// Settings as optics::trace takes them. Problem: the dish has no such facet.
base::Result<optics::TraceSettings> settings_of(const dish::Dish& dish,
                                                const TraceRequest& request);

/// Largest counts a request may ask for: more is a slip, not a wish.
inline constexpr std::uint64_t k_most_rays = 10'000'000'000;
inline constexpr int k_most_workers = 256;
inline constexpr double k_most_tracking_error_mrad = 200.0;
inline constexpr int k_least_map_cells = 8;
inline constexpr int k_most_map_cells = 1024;
inline constexpr double k_widest_map_mm = 100'000.0;

/// JSON with the keys of the headless program: rays, seed, sun, ..., losses_W, facets. The entries
/// of losses_W and power_receiver_W add up to power_incident_W.
std::string json_text(const TraceReply& reply);

/// What a person reads.
std::string report_text(const TraceReply& reply);

/// One row for each facet: facet,power_W,right_mm,up_mm,rms_radius_mm,lit_fraction.
std::string csv_text(const TraceReply& reply);

/// One row for each cell of the flux map, from the lower left, row by row:
/// right_mm,up_mm,flux_W_m2 (middle of the cell; mean over the cell).
std::string map_csv_text(const optics::FluxMap& map);

}  // namespace tasks
