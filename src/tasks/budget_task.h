// The answer "budget": what each error costs, and which improvement would pay most.
#pragma once

#include <string>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/budget.h"

namespace tasks {

struct BudgetRequest {
  optics::BudgetSettings settings;
};

struct BudgetReply {
  optics::Budget budget;
};

inline constexpr std::uint64_t k_most_budget_rays = 100'000'000;  ///< for each dish compared

/// Problems: those of optics::budget, "cancelled".
base::Result<BudgetReply> run(const dish::Dish& dish, const BudgetRequest& request,
                              const base::Progress& progress = {});

/// JSON: power_W and its error, perfect_W, causes [{cause, remedy, present, gain_W, gain_error_W,
/// loss_W, loss_error_W, narrower_mm, blur_mm, blur_mrad}] in order of rank, spot_mm, merit,
/// advice.
std::string json_text(const BudgetReply& reply);

std::string report_text(const BudgetReply& reply);

/// One row for each cause: the keys of the JSON's causes.
std::string csv_text(const BudgetReply& reply);

}  // namespace tasks
