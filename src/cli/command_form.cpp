// facetwright form: the best surface of every facet, and what simpler choices would give.
#include <fmt/format.h>

#include "cli/commands.h"
#include "files/dish_write.h"
#include "tasks/form_task.h"

namespace cli {

std::vector<Option> form_options() {
  return {
      {"--most-groups", "N", "Try spheres from 2 to so many moulds, 1 to 12; default 4."},
      sun_x_option(),
      sun_y_option(),
      {"--take", "WORD",
       fmt::format("Give the facets these surfaces; the dish goes to --dish. One of {}.",
                   fmt::join(tasks::form_take_words(), ", "))},
      {"--take-groups", "N", "Number of moulds for --take groups, 2 to 12; default 2."},
      {"--dish", "OUT.dish.json", "Write the dish with the taken surfaces to this file."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_form(const Given& given, const Console& console) {
  Collected collected;
  tasks::FormRequest request;
  request.settings.most_groups =
      static_cast<int>(collected.take(whole_of(given, "--most-groups", 1, 12)).value_or(4));
  request.settings.tracking_error_rad = sun_place_of(given, collected);
  if (const auto word = collected.take(word_of(given, "--take", tasks::form_take_words()))) {
    request.take = tasks::form_take(*word);
  }
  request.take_groups =
      static_cast<int>(collected.take(whole_of(given, "--take-groups", 2, 12)).value_or(2));
  if (given.has("--dish") != given.has("--take")) {
    collected.add({"--dish", given.has("--dish") ? "given without a form" : "not given",
                   "--take and --dish together"});
  }
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply = tasks::run(dish.value(), request, progress_of(console, "fitting"));
  end_progress(console);
  if (!reply) return report(console, as_options(reply.problems(), form_options()));
  if (const auto path = given.text("--dish"); path && reply.value().dish) {
    const auto written = write_whole(*path, files::write_dish(*reply.value().dish));
    if (!written) return report(console, written.problems());
  }
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  return deliver(
      console, given,
      form == Form::csv ? tasks::csv_text(reply.value()) : tasks::report_text(reply.value()));
}

}  // namespace cli
