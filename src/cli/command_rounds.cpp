// facetwright rounds: the log of alignment rounds told, merged, or its last round taken back.
#include "base/units.h"
#include "cli/commands.h"
#include "dish/ranges.h"
#include "files/dish_write.h"
#include "tasks/rounds_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

tasks::RoundsRequest read_rounds_wishes(const Given& given, Collected& collected) {
  tasks::RoundsRequest request;
  request.undo_last = given.has("--undo-last");
  request.story.watts = !given.has("--without-watts");
  align::PlanRequest& plan = request.story.plan;
  const dish::ranges::Range& sigma = dish::ranges::of(Quantity::spot_sigma);
  const Limits limits{dish::ranges::in_unit(sigma.unit, sigma.least),
                      dish::ranges::in_unit(sigma.unit, sigma.most)};
  if (const auto sigma_mm = collected.take(number_of(given, "--spot-sigma-mm", limits))) {
    plan.spot_sigma_m = base::m_from_mm(*sigma_mm);
  }
  plan.turn_sigma_turns = collected.take(number_of(given, "--turn-sigma-turns", {0.0, 1.0}))
                              .value_or(plan.turn_sigma_turns);
  if (given.has("--out") && !request.undo_last && !given.has("--merge")) {
    collected.add({"--out", "given, but the dish stays as it is", "--merge or --undo-last too"});
  }
  if (given.text("--merge") == "-" && given.operands[0] == "-") {
    collected.add({"--merge", "-", "a file, because standard input is the dish"});
  }
  return request;
}

}  // namespace

std::vector<Option> rounds_options() {
  return {
      {"--merge", "OTHER.dish.json",
       "Take over the rounds of another file of the same dish; what the two say differently is "
       "named, and both are kept."},
      {"--undo-last", "", "Take the last round back."},
      {"--spot-sigma-mm", "mm",
       "Uncertainty per axis of spots that bring none, 0.001 to 5000 mm; default 2."},
      {"--turn-sigma-turns", "turns", "How well a hand turns, 0 to 1 turn; default 1/12."},
      {"--without-watts", "", "Do not light the dish for what is to be had; quicker."},
      json_option(),
      {"--out", "OUT.dish.json",
       "Write the merged or shortened dish to this file; the report is printed."},
  };
}

int carry_out_rounds(const Given& given, const Console& console) {
  Collected collected;
  tasks::RoundsRequest request = read_rounds_wishes(given, collected);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  if (const auto path = given.text("--merge")) {
    auto other = open_dish_file(console, *path);
    if (!other) return report(console, other.problems());
    request.merge = std::move(other).value();
  }
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, reply.problems());
  if (const auto path = given.text("--out")) {
    const auto written = write_whole(*path, files::write_dish(reply.value().dish));
    if (!written) return report(console, written.problems());
  }
  const auto written = write_out(console, given.has("--json") ? tasks::json_text(reply.value())
                                                              : tasks::report_text(reply.value()));
  return written ? k_done : report(console, written.problems());
}

}  // namespace cli
