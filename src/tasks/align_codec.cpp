// Reads an align request's settings.
#include <fmt/format.h>

#include "dish/ranges.h"
#include "tasks/align_task.h"
#include "tasks/codec.h"
#include "tasks/round_settings.h"
#include "tasks/sighting_settings.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;

void read_left_out(Settings& settings, align::PlanRequest& plan) {
  const Json* list = settings.raw("leave_out");
  if (list == nullptr) return;
  const base::Problem wrong{
      "request.leave_out", to_dense_text(*list).substr(0, 60),
      fmt::format("a list with some of {}", fmt::join(leave_out_words(), ", "))};
  if (!list->is_array()) {
    settings.add(wrong);
    return;
  }
  for (const Json& word : *list) {
    if (!word.is_string() || !leave_out(word.get<std::string>(), plan)) settings.add(wrong);
  }
}

align::PlanRequest read_plan(Settings& settings) {
  align::PlanRequest plan;
  if (const auto word = settings.text("keep")) {
    const Keep keep = keep_of(*word);
    plan.piston = keep.piston;
    plan.held_screw = keep.held_screw;
  }
  read_left_out(settings, plan);
  if (const auto clicks = settings.whole("clicks_per_turn", 1, 360)) {
    plan.clicks_per_turn = static_cast<int>(*clicks);
  }
  plan.spot_sigma_m =
      number_in(settings, "spot_sigma_mm", Quantity::spot_sigma).value_or(plan.spot_sigma_m);
  plan.lean_sigma_rad =
      number_in(settings, "lean_sigma_deg", Quantity::lean_sigma).value_or(plan.lean_sigma_rad);
  plan.height_sigma_m =
      number_in(settings, "height_sigma_mm", Quantity::gauge_sigma).value_or(plan.height_sigma_m);
  plan.turn_sigma_turns =
      settings.number("turn_sigma_turns", 0.0, 1.0).value_or(plan.turn_sigma_turns);
  const auto pivot = settings.word("pivot", {"mount", "fixed"});
  if (pivot && *pivot == "fixed") plan.pivot = align::Pivot::fixed;
  plan.secondary_in_place = !settings.yes_or_no("without_secondary").value_or(false);
  return plan;
}

}  // namespace

AlignRequest read_align_request(const Call& call) {
  AlignRequest request;
  request.round = read_round(call.settings, call.dish);
  if (const auto source = read_source(call.settings)) request.round.source = *source;
  if (const auto board = read_board(call.settings)) request.round.board = board;
  request.plan = read_plan(call.settings);
  request.skip_unusable = call.settings.yes_or_no("skip_unusable").value_or(false);
  const auto spot = call.settings.word("spot", {"centroid", "centre"});
  request.plan.spot_is_centroid =
      spot ? *spot == "centroid" : is_centroid_by_default(request.round.source);
  return request;
}

base::Result<std::string> answer_align(const Call& call) {
  const AlignRequest request = read_align_request(call);
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
