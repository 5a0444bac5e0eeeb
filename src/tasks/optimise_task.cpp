// Runs a search and lays it out as JSON and report.
#include "tasks/optimise_task.h"

#include <fmt/format.h>

#include <utility>

#include "base/units.h"
#include "dish/checks.h"
#include "files/dish_write.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;
using optics::AimResult;
using optics::AimSettings;
using optics::SearchFigures;
using optics::SizeResult;
using optics::SizeSettings;
using optics::SizeTrial;

Json figures_json(const SearchFigures& figures) {
  return Json{{"power_receiver_W", number(figures.receiver_W)},
              {"power_plane_W", number(figures.plane_W)},
              {"intercept_factor", number(figures.intercept_factor)},
              {"most_flux_W_m2", number(figures.most_flux_W_m2)},
              {"peak_W_m2", number(figures.peak_W_m2)},
              {"mean_concentration", number(figures.mean_concentration)},
              {"uniformity", number(figures.uniformity)}};
}

Json dish_json(const dish::Dish& dish) { return Json::parse(files::write_dish(dish)); }

Json trial_json(const SizeTrial& trial) {
  return Json{{"focal_length_m", number(trial.focal_length_m)},
              {"magnification", number(trial.magnification)},
              {"receiver_mm", number(mm_from_m(trial.receiver_m))},
              {"power_receiver_W", number(trial.receiver_W)},
              {"mean_concentration", number(trial.mean_concentration)},
              {"possible", trial.is_possible}};
}

Json json_of(const AimResult& result) {
  Json aims = Json::array();
  for (std::size_t k = 0; k < result.aim_m.size(); ++k) {
    aims.push_back(
        Json{{"id", result.dish.facets[k].id.text}, {"aim_mm", numbers(result.aim_m[k], 1000.0)}});
  }
  return Json{{"what", "aims"},
              {"limit_W_m2", number(result.limit_W_m2)},
              {"within_limit", result.is_within_limit},
              {"held", result.held},
              {"before", figures_json(result.before)},
              {"after", figures_json(result.after)},
              {"aims", std::move(aims)},
              {"dish", dish_json(result.dish)}};
}

Json json_of(const SizeResult& result) {
  Json trials = Json::array();
  for (const SizeTrial& trial : result.trials) trials.push_back(trial_json(trial));
  return Json{{"what", "size"},
              {"best", trial_json(result.best)},
              {"at_bound", result.is_at_bound},
              {"before", figures_json(result.before)},
              {"after", figures_json(result.after)},
              {"trials", std::move(trials)},
              {"dish", dish_json(result.dish)}};
}

Table comparison(const SearchFigures& before, const SearchFigures& after) {
  Table table{.columns = {{"", false}, {"before"}, {"after"}}};
  const auto row = [&](const std::string& name, double a, double b, int decimals) {
    table.rows.push_back({name, fixed(a, decimals), fixed(b, decimals)});
  };
  row("on the receiver, W", before.receiver_W, after.receiver_W, 1);
  row("intercept factor", before.intercept_factor, after.intercept_factor, 4);
  row("greatest flux on it, kW/m2", before.most_flux_W_m2 / 1e3, after.most_flux_W_m2 / 1e3, 2);
  row("peak flux (over a tenth of its width), kW/m2", before.peak_W_m2 / 1e3, after.peak_W_m2 / 1e3,
      2);
  row("mean concentration, suns", before.mean_concentration, after.mean_concentration, 1);
  row("mean over greatest flux", before.uniformity, after.uniformity, 3);
  return table;
}

std::string report_of(const AimResult& result) {
  Table aims{.columns = {{"facet", false}, {"aim right mm"}, {"up mm"}}};
  for (std::size_t k = 0; k < result.aim_m.size(); ++k) {
    aims.rows.push_back({result.dish.facets[k].id.text,
                         fixed_signed(mm_from_m(result.aim_m[k].x), 1),
                         fixed_signed(mm_from_m(result.aim_m[k].y), 1)});
  }
  std::string text = to_text(comparison(result.before, result.after));
  const std::string limit = significant(result.limit_W_m2 / 1e3, 4) + " kW/m2";
  text += result.is_within_limit
              ? fmt::format("\nThe flux stays within {} everywhere on the receiver.\n", limit)
              : fmt::format(
                    "\nThe flux does not stay within {}; this is the flattest found. A "
                    "wider receiver or\nfewer facets would.\n",
                    limit);
  if (result.held > 0) {
    text += fmt::format("{} facets have a normal of their own and were left where they aim.\n",
                        result.held);
  }
  return text + "\n" + to_text(aims);
}

std::string report_of(const SizeResult& result) {
  Lines best;
  best.add("focal length", significant(result.best.focal_length_m, 5) + " m");
  if (result.dish.secondary) best.add("magnification", significant(result.best.magnification, 4));
  best.add("receiver", fixed(mm_from_m(result.best.receiver_m), 1) + " mm wide");
  std::string text = to_text(best) + "\n" + to_text(comparison(result.before, result.after));
  text += fmt::format("\n{} designs tried.{}\n", result.trials.size(),
                      result.is_at_bound ? " The best lies at an end of what was allowed: wider "
                                           "bounds may give more."
                                         : "");
  return text;
}

void read_aims(Settings& settings, AimSettings& aims) {
  aims.limit_W_m2 = settings.number("limit_W_m2", 1e-3, 1e12);
  if (const auto loss = settings.number("most_loss", 0.0, 0.5)) aims.most_loss = *loss;
  if (const auto cells = settings.whole("map_cells", 16, 128)) {
    aims.map_cells = static_cast<int>(*cells);
  }
  if (const auto rounds = settings.whole("rounds", 1, 10)) aims.rounds = static_cast<int>(*rounds);
  aims.tracking_error_rad = read_sun_place(settings);
}

std::optional<optics::Between> read_between(Settings& settings, const std::string& key,
                                            double to_si) {
  const auto ends = settings.pair(key, 1e-9, 1e9);
  if (!ends) return std::nullopt;
  return optics::Between{ends->x * to_si, ends->y * to_si};
}

void read_sizes(Settings& settings, SizeSettings& sizes) {
  if (const auto wanted = settings.number("mean_concentration", 1e-6, 1e9)) {
    sizes.mean_concentration = *wanted;
  }
  sizes.focal_length_m = read_between(settings, "focal_length_m", 1.0);
  sizes.magnification = read_between(settings, "magnification", 1.0);
  sizes.receiver_m = read_between(settings, "receiver_mm", 1e-3);
  sizes.tracking_error_rad = read_sun_place(settings);
}

}  // namespace

const dish::Dish& OptimiseReply::dish() const {
  return std::visit([](const auto& one) -> const dish::Dish& { return one.dish; }, result);
}

base::Result<OptimiseReply> run(const dish::Dish& dish, const OptimiseRequest& request,
                                const base::Progress& progress) {
  OptimiseReply reply;
  if (const auto* aims = std::get_if<AimSettings>(&request.wish)) {
    auto found = optics::flatten_flux(dish, *aims, progress);
    if (!found) return found.problems();
    reply.result = std::move(found).value();
  } else {
    auto found = optics::size_dish(dish, std::get<SizeSettings>(request.wish), progress);
    if (!found) return found.problems();
    reply.result = std::move(found).value();
  }
  if (base::Problems errors = dish::errors_of(reply.dish()); !errors.empty()) return errors;
  return reply;
}

std::string json_text(const OptimiseReply& reply) {
  return to_text(std::visit([](const auto& one) { return json_of(one); }, reply.result)) + "\n";
}

std::string report_text(const OptimiseReply& reply) {
  return std::visit([](const auto& one) { return report_of(one); }, reply.result);
}

base::Result<std::string> answer_optimise(const Call& call) {
  OptimiseRequest request;
  const auto what = call.settings.word("what", {"aims", "size"});
  if (what && *what == "size") {
    read_sizes(call.settings, request.wish.emplace<SizeSettings>());
  } else {
    read_aims(call.settings, request.wish.emplace<AimSettings>());
  }
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
