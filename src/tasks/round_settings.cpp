// Rows and tables of readings.
#include "tasks/round_settings.h"

#include <fmt/format.h>

#include <functional>
#include <optional>
#include <string>

#include "base/units.h"
#include "dish/ranges.h"
#include "tasks/align_task.h"
#include "tasks/facets.h"
#include "tasks/sighting_settings.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;

/// Walks through a list of rows; `take` answers with what a whole row holds, or nothing.
template <class Row>
std::vector<Row> read_rows(Settings& settings, const char* key, const Json& rows,
                           const dish::Dish& dish, const char* expected,
                           const std::function<std::optional<Row>(Settings&)>& take) {
  std::vector<Row> read;
  if (!rows.is_array()) {
    settings.add({fmt::format("request.{}", key), "no list", fmt::format("a list of {}", key)});
    return read;
  }
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const std::string place = fmt::format("request.{}[{}]", key, k);
    Settings own(rows[k], place);
    const auto facet = own.text("facet");
    std::optional<Row> row = take(own);
    const base::Problems problems = own.finish();
    settings.add(problems);
    if (!problems.empty()) continue;
    if (!facet || !row) {
      settings.add({place, "not whole", expected});
    } else if (dish::find_facet(dish, {*facet}) == dish::k_no_facet) {
      settings.add(unknown_facet(dish, {*facet}, place));
    } else {
      row->facet = {*facet};
      read.push_back(*std::move(row));
    }
  }
  return read;
}

std::optional<dish::Spot> take_spot(Settings& row) {
  const double far_mm = base::mm_from_m(dish::ranges::of(Quantity::spot_seen).most);
  const auto right = row.number("right_mm", -far_mm, far_mm);
  const auto up = row.number("up_mm", -far_mm, far_mm);
  const auto sigma = number_in(row, "sigma_mm", Quantity::spot_sigma);
  if (!right || !up) return std::nullopt;
  return dish::Spot{{}, {base::m_from_mm(*right), base::m_from_mm(*up)}, sigma};
}

std::optional<dish::Lean> take_lean(Settings& row) {
  const auto edge = number_in(row, "edge_deg", Quantity::lean_edge);
  const auto reading = number_in(row, "reading_deg", Quantity::lean_reading);
  const auto reversed = number_in(row, "reversed_deg", Quantity::lean_reversed);
  const auto sigma = number_in(row, "sigma_deg", Quantity::lean_sigma);
  if (!edge || !reading) return std::nullopt;
  return dish::Lean{{}, *edge, *reading, reversed, sigma};
}

std::optional<dish::GaugeHeight> take_height(Settings& row) {
  const auto x = number_in(row, "x_mm", Quantity::gauge_place);
  const auto y = number_in(row, "y_mm", Quantity::gauge_place);
  const auto height = number_in(row, "height_mm", Quantity::gauge_height);
  const auto sigma = number_in(row, "sigma_mm", Quantity::gauge_sigma);
  if (!x || !y || !height) return std::nullopt;
  return dish::GaugeHeight{{}, {*x, *y}, *height, sigma};
}

void read_tables(Settings& settings, const dish::Dish& dish, dish::Round& round) {
  if (const auto csv = settings.text("spots_csv")) {
    const auto spots = spots_of_file(dish, *csv, "request.spots_csv");
    if (!spots) settings.add(spots.problems());
    if (spots) round.spots = spots.value().spots;
  }
  if (const auto csv = settings.text("leans_csv")) {
    const auto leans = files::read_leans(*csv, "request.leans_csv", dish);
    if (!leans) settings.add(leans.problems());
    if (leans) round.leans = leans.value().readings;
  }
  if (const auto csv = settings.text("heights_csv")) {
    const auto heights = files::read_heights(*csv, "request.heights_csv", dish);
    if (!heights) settings.add(heights.problems());
    if (heights) round.heights = heights.value().readings;
  }
}

}  // namespace

dish::Round read_round(Settings& settings, const dish::Dish& dish) {
  const Json* spots = settings.raw("spots");
  const Json* leans = settings.raw("leans");
  const Json* heights = settings.raw("heights");
  const bool has_spots_csv = settings.raw("spots_csv") != nullptr;
  const bool has_leans_csv = settings.raw("leans_csv") != nullptr;
  const bool has_heights_csv = settings.raw("heights_csv") != nullptr;
  const auto name = settings.text("round");
  const bool own = spots || leans || heights || has_spots_csv || has_leans_csv || has_heights_csv;
  const bool doubled = (spots && has_spots_csv) || (leans && has_leans_csv) ||
                       (heights && has_heights_csv) || (own && name);
  if (doubled || (!own && !name)) {
    settings.add({"request.spots, spots_csv, round", doubled ? "more than one given" : "0 given",
                  "one of them; or leans or heights, or leans_csv or heights_csv"});
    return {};
  }
  dish::Round round;
  if (spots) {
    round.spots = read_rows<dish::Spot>(settings, "spots", *spots, dish,
                                        "facet, right_mm and up_mm", take_spot);
  }
  if (leans) {
    round.leans = read_rows<dish::Lean>(settings, "leans", *leans, dish,
                                        "facet, edge_deg and reading_deg", take_lean);
  }
  if (heights) {
    round.heights = read_rows<dish::GaugeHeight>(settings, "heights", *heights, dish,
                                                 "facet, x_mm, y_mm and height_mm", take_height);
  }
  read_tables(settings, dish, round);
  if (name) {
    const auto logged = round_of_dish(dish, *name);
    if (!logged) settings.add(logged.problems());
    if (logged) round = logged.value();
  }
  if (const auto elevation = number_in(settings, "elevation_deg", Quantity::elevation)) {
    round.elevation_rad = elevation;
  }
  return round;
}

}  // namespace tasks
