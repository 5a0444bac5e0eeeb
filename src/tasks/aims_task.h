// The answer "aims": a dish whose facets aim at a pattern of points, and what that does to the
// flux.
#pragma once

#include <optional>
#include <string>

#include "base/result.h"
#include "dish/aims.h"
#include "dish/dish.h"

namespace tasks {

struct AimsRequest {
  dish::AimPattern pattern;
  std::optional<double> spot_sigma_m;  ///< of one facet's spot, for the foretold peak
};

struct AimsReply {
  dish::Dish dish;                      ///< with the new aims
  std::optional<double> peak_ratio;     ///< of a disc: peak against all on one point
  std::optional<double> most_radius_m;  ///< a disc up to here loses little on this receiver
};

/// Problems: a radius or an aim out of range.
base::Result<AimsReply> run(const dish::Dish& dish, const AimsRequest& request);

std::string json_text(const AimsReply& reply);

/// What the pattern does, for a person.
std::string report_text(const AimsReply& reply);

}  // namespace tasks
