// Runs the budget and lays it out as JSON, report and CSV.
#include "tasks/budget_task.h"

#include <fmt/format.h>

#include <utility>

#include "base/units.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"
#include "tasks/trace_task.h"

namespace tasks {
namespace {

Json merit_json(const optics::Merit& merit) {
  return Json{{"aperture_diameter_mm", number(base::mm_from_m(merit.aperture_diameter_m))},
              {"rim_angle_deg", number(base::deg_from_rad(merit.rim_angle_rad))},
              {"magnification", number(merit.magnification)},
              {"effective_focal_length_m", number(merit.effective_focal_length_m)},
              {"effective_focal_ratio", number(merit.effective_focal_ratio)},
              {"arriving_rim_angle_deg", number(base::deg_from_rad(merit.arriving_rim_angle_rad))},
              {"sun_image_mm", number(base::mm_from_m(merit.sun_image_m))},
              {"limit_concentration", number(merit.limit_concentration)},
              {"geometric_concentration", number(merit.geometric_concentration)},
              {"mean_concentration", number(merit.mean_concentration)},
              {"peak_concentration", number(merit.peak_concentration)},
              {"etendue_use", number(merit.etendue_use)},
              {"peak_etendue_use", number(merit.peak_etendue_use)}};
}

Json causes_json(const optics::Budget& budget) {
  Json causes = Json::array();
  for (const optics::CauseCost& cost : budget.costs) {
    causes.push_back(Json{{"cause", optics::key_of(cost.cause)},
                          {"remedy", optics::key_of(optics::remedy_of(cost.cause))},
                          {"present", cost.is_present},
                          {"gain_W", number(cost.gain_W)},
                          {"gain_error_W", number(cost.gain_error_W)},
                          {"loss_W", number(cost.loss_W)},
                          {"loss_error_W", number(cost.loss_error_W)},
                          {"narrower_mm", number(base::mm_from_m(cost.narrower_m))},
                          {"blur_mm", number(base::mm_from_m(cost.blur_m))},
                          {"blur_mrad", number(base::mrad_from_rad(cost.blur_rad))}});
  }
  return causes;
}

Lines figures(const optics::Budget& budget) {
  Lines lines;
  lines.add("on the receiver now",
            fmt::format("{} W, standard error {} W", significant(budget.as_is_W, 5),
                        significant(budget.as_is_error_W, 2)));
  lines.add("perfect in everything", significant(budget.perfect_W, 5) + " W");
  lines.add("spot now", fmt::format("rms radius {} mm; all blurs in quadrature {} mm",
                                    fixed(base::mm_from_m(budget.rms_radius_m), 1),
                                    fixed(base::mm_from_m(budget.quadrature_radius_m), 1)));
  const optics::Merit& merit = budget.merit;
  lines.add("focal ratio",
            fmt::format("f/{}, rim angle {} deg", fixed(merit.effective_focal_ratio, 2),
                        fixed(base::deg_from_rad(merit.rim_angle_rad), 1)));
  lines.add("image of the sun", fixed(base::mm_from_m(merit.sun_image_m), 1) + " mm wide on axis");
  lines.add("concentration",
            fmt::format("mean {} suns, peak {} suns", significant(merit.mean_concentration, 4),
                        significant(merit.peak_concentration, 4)));
  lines.add("of the thermodynamic limit",
            merit.limit_concentration > 0.0
                ? fmt::format("mean {} %, peak {} % of {} suns",
                              significant(100.0 * merit.etendue_use, 3),
                              significant(100.0 * merit.peak_etendue_use, 3),
                              fixed(merit.limit_concentration, 0))
                : "-");
  return lines;
}

Table causes_table(const optics::Budget& budget) {
  Table table{.columns = {{"cause", false},
                          {"gain W if perfect"},
                          {"+-"},
                          {"loss W if alone"},
                          {"+-"},
                          {"blur mm"},
                          {"blur mrad"},
                          {"change", false}}};
  for (const optics::CauseCost& cost : budget.costs) {
    if (!cost.is_present) continue;
    table.rows.push_back({optics::words_of(cost.cause), fixed(cost.gain_W, 1),
                          fixed(cost.gain_error_W, 1), fixed(cost.loss_W, 1),
                          fixed(cost.loss_error_W, 1), fixed(base::mm_from_m(cost.blur_m), 1),
                          fixed(base::mrad_from_rad(cost.blur_rad), 2),
                          optics::words_of(optics::remedy_of(cost.cause))});
  }
  return table;
}

}  // namespace

base::Result<BudgetReply> run(const dish::Dish& dish, const BudgetRequest& request,
                              const base::Progress& progress) {
  auto budget = optics::budget(dish, request.settings, progress);
  if (!budget) return budget.problems();
  return BudgetReply{.budget = std::move(budget).value()};
}

std::string json_text(const BudgetReply& reply) {
  const optics::Budget& budget = reply.budget;
  Json json{{"rays", budget.as_is.rays},
            {"seed", budget.as_is.seed},
            {"power_receiver_W", number(budget.as_is_W)},
            {"standard_error_W", number(budget.as_is_error_W)},
            {"perfect_W", number(budget.perfect_W)},
            {"together_W", number(budget.together_W)},
            {"sum_of_gains_W", number(budget.sum_of_gains_W)},
            {"sum_of_losses_W", number(budget.sum_of_losses_W)},
            {"spot_mm",
             {{"rms", number(base::mm_from_m(budget.rms_radius_m))},
              {"quadrature", number(base::mm_from_m(budget.quadrature_radius_m))}}},
            {"mean_way_m", number(budget.mean_way_m)},
            {"causes", causes_json(budget)},
            {"merit", merit_json(budget.merit)},
            {"advice", Json::array()}};
  for (const std::string& sentence : budget.advice) json["advice"].push_back(sentence);
  return to_text(json) + "\n";
}

std::string report_text(const BudgetReply& reply) {
  std::string text = to_text(figures(reply.budget)) + "\n" + to_text(causes_table(reply.budget));
  text +=
      "\nGain: more on the receiver when this alone is made perfect. Loss: less on it when this "
      "alone is\nadded to a perfect dish. Causes overlap, so neither column adds up.\n\n";
  for (const std::string& sentence : reply.budget.advice) text += sentence + "\n";
  return text;
}

std::string csv_text(const BudgetReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const optics::CauseCost& cost : reply.budget.costs) {
    rows.push_back({optics::key_of(cost.cause), optics::key_of(optics::remedy_of(cost.cause)),
                    cost.is_present ? "true" : "false", exact(cost.gain_W),
                    exact(cost.gain_error_W), exact(cost.loss_W), exact(cost.loss_error_W),
                    exact(base::mm_from_m(cost.narrower_m)), exact(base::mm_from_m(cost.blur_m)),
                    exact(base::mrad_from_rad(cost.blur_rad))});
  }
  return to_csv({"cause", "remedy", "present", "gain_W", "gain_error_W", "loss_W", "loss_error_W",
                 "narrower_mm", "blur_mm", "blur_mrad"},
                rows);
}

base::Result<std::string> answer_budget(const Call& call) {
  BudgetRequest request;
  optics::BudgetSettings& settings = request.settings;
  if (const auto rays = call.settings.whole("rays", 1, k_most_budget_rays)) settings.rays = *rays;
  if (const auto seed = call.settings.whole("seed", 0, ~std::uint64_t{0})) settings.seed = *seed;
  settings.tracking_error_rad = read_sun_place(call.settings);
  if (const auto workers = call.settings.whole("workers", 1, k_most_workers)) {
    settings.workers = static_cast<int>(*workers);
  }
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
