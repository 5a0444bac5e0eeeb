// The answer "optimise": a better dish, by moving aims or by resizing, and what it gains.
#pragma once

#include <string>
#include <variant>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/optimise.h"

namespace tasks {

struct OptimiseRequest {
  std::variant<optics::AimSettings, optics::SizeSettings> wish;
};

struct OptimiseReply {
  std::variant<optics::AimResult, optics::SizeResult> result;

  [[nodiscard]] const dish::Dish& dish() const;  ///< the changed dish
};

/// Problems: those of optics::flatten_flux and optics::size_dish, "cancelled".
base::Result<OptimiseReply> run(const dish::Dish& dish, const OptimiseRequest& request,
                                const base::Progress& progress = {});

/// JSON: what ("aims" or "size"), before and after figures, aims or sizes and trials, and "dish",
/// the changed file's object.
std::string json_text(const OptimiseReply& reply);
std::string report_text(const OptimiseReply& reply);

}  // namespace tasks
