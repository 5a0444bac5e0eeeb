// Reads an align request's settings.
#include <fmt/format.h>

#include <optional>

#include "base/units.h"
#include "dish/ranges.h"
#include "files/spots.h"
#include "tasks/align_task.h"
#include "tasks/codec.h"
#include "tasks/facets.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;
using dish::ranges::Range;

constexpr double k_farthest_mm = 1e8;

std::optional<double> number_in(Settings& settings, const std::string& key, Quantity quantity) {
  const Range& range = dish::ranges::of(quantity);
  const auto value = settings.number(key, dish::ranges::in_unit(range.unit, range.least),
                                     dish::ranges::in_unit(range.unit, range.most));
  if (!value) return std::nullopt;
  return dish::ranges::si_from(range.unit, *value);
}

}  // namespace

std::optional<dish::Source> read_source(Settings& settings) {
  const auto kind = settings.word("source", {"sun", "laser", "lamp"});
  const auto x_rad = number_in(settings, "sun_x_mrad", Quantity::tracking_error);
  const auto y_rad = number_in(settings, "sun_y_mrad", Quantity::tracking_error);
  const auto lamp_mm = settings.triple("lamp_mm", -k_farthest_mm, k_farthest_mm);
  const bool wants_lamp = kind && *kind == "lamp";
  if (wants_lamp != lamp_mm.has_value()) {
    settings.add({"request.source", kind.value_or("not said"),
                  "lamp together with lamp_mm [x, y, z], where it stands"});
  }
  if ((x_rad || y_rad) && kind && *kind != "sun") {
    settings.add({"request.sun_x_mrad, sun_y_mrad", "given without the sun", "source sun"});
  }
  if (lamp_mm) return dish::LampSource{.position_m = *lamp_mm * 1e-3};
  if (kind && *kind == "laser") return dish::LaserSource{};
  if (!kind && !x_rad && !y_rad) return std::nullopt;
  return dish::SunSource{.tracking_error_rad = {x_rad.value_or(0.0), y_rad.value_or(0.0)}};
}

std::optional<dish::Board> read_board(Settings& settings) {
  const Json* given = settings.raw("board");
  if (given == nullptr) return std::nullopt;
  Settings own(*given, "request.board");
  dish::Board board;
  const double far_mm = base::mm_from_m(dish::ranges::of(Quantity::board_centre).most);
  if (const auto centre = own.triple("centre_mm", -far_mm, far_mm)) board.centre_m = *centre * 1e-3;
  if (const auto normal = own.triple("lit_normal", -1e3, 1e3)) board.lit_normal = *normal;
  if (const auto up = own.triple("up", -1e3, 1e3)) board.up = *up;
  settings.add(own.finish());
  settings.add(straighten(board, "request.board"));
  return board;
}

namespace {

/// Rows of spots in the request itself.
std::vector<dish::Spot> read_rows(Settings& settings, const Json& rows, const dish::Dish& dish) {
  std::vector<dish::Spot> spots;
  if (!rows.is_array()) settings.add({"request.spots", "no list", "a list of spots"});
  const double far_mm = base::mm_from_m(dish::ranges::of(Quantity::spot_seen).most);
  for (std::size_t k = 0; rows.is_array() && k < rows.size(); ++k) {
    Settings row(rows[k], fmt::format("request.spots[{}]", k));
    const auto facet = row.text("facet");
    const auto right = row.number("right_mm", -far_mm, far_mm);
    const auto up = row.number("up_mm", -far_mm, far_mm);
    const auto sigma = number_in(row, "sigma_mm", Quantity::spot_sigma);
    const base::Problems problems = row.finish();
    settings.add(problems);
    if (problems.empty() && (!facet || !right || !up)) {
      settings.add({fmt::format("request.spots[{}]", k), "not whole", "facet, right_mm and up_mm"});
    } else if (problems.empty() && dish::find_facet(dish, {*facet}) == dish::k_no_facet) {
      settings.add(unknown_facet(dish, {*facet}, fmt::format("request.spots[{}]", k)));
    } else if (problems.empty()) {
      spots.push_back({{*facet}, {base::m_from_mm(*right), base::m_from_mm(*up)}, sigma});
    }
  }
  return spots;
}

/// The round: spots in the request, as rows or as CSV, or a round of the dish.
dish::Round read_round(Settings& settings, const dish::Dish& dish) {
  const Json* rows = settings.raw("spots");
  const auto csv = settings.text("spots_csv");
  const auto name = settings.text("round");
  const int given = (rows != nullptr ? 1 : 0) + (csv ? 1 : 0) + (name ? 1 : 0);
  if (given != 1) {
    settings.add(
        {"request.spots, spots_csv, round", fmt::format("{} given", given), "one of the three"});
    return {};
  }
  dish::Round round;
  if (rows != nullptr) round.spots = read_rows(settings, *rows, dish);
  if (csv) {
    const auto spots = spots_of_file(dish, *csv, "request.spots_csv");
    if (!spots) settings.add(spots.problems());
    if (spots) round.spots = spots.value().spots;
  }
  if (name) {
    const auto logged = round_of_dish(dish, *name);
    if (!logged) settings.add(logged.problems());
    if (logged) round = logged.value();
  }
  return round;
}

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
  plan.turn_sigma_turns =
      settings.number("turn_sigma_turns", 0.0, 1.0).value_or(plan.turn_sigma_turns);
  const auto pivot = settings.word("pivot", {"mount", "fixed"});
  if (pivot && *pivot == "fixed") plan.pivot = align::Pivot::fixed;
  plan.secondary_in_place = !settings.yes_or_no("without_secondary").value_or(false);
  return plan;
}

}  // namespace

base::Result<std::string> answer_align(const Call& call) {
  AlignRequest request;
  request.round = read_round(call.settings, call.dish);
  if (const auto source = read_source(call.settings)) request.round.source = *source;
  if (const auto board = read_board(call.settings)) request.round.board = board;
  request.plan = read_plan(call.settings);
  request.skip_unusable = call.settings.yes_or_no("skip_unusable").value_or(false);
  const auto spot = call.settings.word("spot", {"centroid", "centre"});
  request.plan.spot_is_centroid =
      spot ? *spot == "centroid" : is_centroid_by_default(request.round.source);
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
