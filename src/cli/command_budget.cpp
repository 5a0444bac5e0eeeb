// facetwright budget: what each error costs.
#include <fmt/format.h>

#include <algorithm>
#include <thread>

#include "cli/commands.h"
#include "tasks/budget_task.h"
#include "tasks/trace_task.h"

namespace cli {

std::vector<Option> budget_options() {
  return {
      {"--rays", "N",
       fmt::format("Rays for each of the dishes compared, 1 to {}; default 50000.",
                   tasks::k_most_budget_rays)},
      {"--seed", "S", "Which random points are used, 0 to 2^64 - 1; default 1."},
      sun_x_option(),
      sun_y_option(),
      {"--workers", "N",
       "Threads, 1 to 256; default one for each core. The result does not depend on it."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_budget(const Given& given, const Console& console) {
  Collected collected;
  tasks::BudgetRequest request;
  optics::BudgetSettings& settings = request.settings;
  settings.rays = collected.take(whole_of(given, "--rays", 1, tasks::k_most_budget_rays))
                      .value_or(settings.rays);
  settings.seed = collected.take(whole_of(given, "--seed", 0, ~0ULL)).value_or(settings.seed);
  settings.tracking_error_rad = sun_place_of(given, collected);
  const unsigned cores = std::clamp(std::thread::hardware_concurrency(), 1U,
                                    static_cast<unsigned>(tasks::k_most_workers));
  settings.workers = static_cast<int>(
      collected.take(whole_of(given, "--workers", 1, tasks::k_most_workers)).value_or(cores));
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply = tasks::run(dish.value(), request, progress_of(console, "comparing"));
  end_progress(console);
  if (!reply) return report(console, as_options(reply.problems(), budget_options()));
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  return deliver(
      console, given,
      form == Form::csv ? tasks::csv_text(reply.value()) : tasks::report_text(reply.value()));
}

}  // namespace cli
