// facetwright preset: the caliper height of every adjuster at the nominal tilt.
#include "cli/commands.h"
#include "tasks/preset_task.h"

namespace cli {

std::vector<Option> preset_options() { return {json_option(), csv_option(), out_option()}; }

int carry_out_preset(const Given& given, const Console& console) {
  const auto form = form_of(given);
  if (!form) return report(console, form.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply = tasks::run(dish.value(), tasks::PresetRequest{});
  if (!reply) return report(console, reply.problems());
  switch (form.value()) {
    case Form::json:
      return deliver(console, given, tasks::json_text(reply.value()));
    case Form::csv:
      return deliver(console, given, tasks::csv_text(reply.value()));
    case Form::report:
      break;
  }
  return deliver(console, given, tasks::report_text(reply.value()));
}

}  // namespace cli
