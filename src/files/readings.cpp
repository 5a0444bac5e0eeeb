// Columns of each table, and rows to readings and back.
#include "files/readings.h"

#include "files/facet_table.h"

namespace files {
namespace {

using dish::ranges::Quantity;

FacetTableKind lean_table() {
  return {.columns = {{"edge_deg", Quantity::lean_edge},
                      {"reading_deg", Quantity::lean_reading},
                      {"reversed_deg", Quantity::lean_reversed, false},
                      {"sigma_deg", Quantity::lean_sigma, false}},
          .header = "facet,edge_deg,reading_deg[,reversed_deg,sigma_deg]",
          .reading = "inclinometer reading",
          .each_facet_once = false};
}

FacetTableKind height_table() {
  return {.columns = {{"x_mm", Quantity::gauge_place},
                      {"y_mm", Quantity::gauge_place},
                      {"height_mm", Quantity::gauge_height},
                      {"sigma_mm", Quantity::gauge_sigma, false}},
          .header = "facet,x_mm,y_mm,height_mm[,sigma_mm]",
          .reading = "measured height",
          .each_facet_once = false};
}

base::Result<FacetTable> read_known(std::string_view bytes, std::string_view file_name,
                                    const dish::Dish& dish, const FacetTableKind& kind) {
  auto table = read_facet_table(bytes, file_name, kind);
  if (!table) return table.problems();
  base::Problems strangers = match_facet_rows(table.value().rows, dish, file_name);
  if (!strangers.empty()) return strangers;
  if (table.value().rows.empty()) {
    return base::Problem{std::string(file_name), std::string("no ") + kind.reading,
                         "at least one row below the header"};
  }
  return table;
}

}  // namespace

base::Result<ReadReadings<dish::Lean>> read_leans(std::string_view bytes,
                                                  std::string_view file_name,
                                                  const dish::Dish& dish) {
  const auto table = read_known(bytes, file_name, dish, lean_table());
  if (!table) return table.problems();
  ReadReadings<dish::Lean> read{.readings = {}, .notes = table.value().notes};
  for (const FacetRow& row : table.value().rows) {
    read.readings.push_back({{row.facet}, *row.si[0], *row.si[1], row.si[2], row.si[3]});
  }
  return read;
}

base::Result<ReadReadings<dish::GaugeHeight>> read_heights(std::string_view bytes,
                                                           std::string_view file_name,
                                                           const dish::Dish& dish) {
  const auto table = read_known(bytes, file_name, dish, height_table());
  if (!table) return table.problems();
  ReadReadings<dish::GaugeHeight> read{.readings = {}, .notes = table.value().notes};
  for (const FacetRow& row : table.value().rows) {
    read.readings.push_back({{row.facet}, {*row.si[0], *row.si[1]}, *row.si[2], row.si[3]});
  }
  return read;
}

std::string write_leans(const std::vector<dish::Lean>& leans) {
  std::vector<FacetRow> rows;
  for (const dish::Lean& lean : leans) {
    rows.push_back(
        {lean.facet.text, {lean.edge_rad, lean.reading_rad, lean.reversed_rad, lean.sigma_rad}});
  }
  return write_facet_table(rows, lean_table());
}

std::string write_heights(const std::vector<dish::GaugeHeight>& heights) {
  std::vector<FacetRow> rows;
  for (const dish::GaugeHeight& height : heights) {
    rows.push_back(
        {height.facet.text, {height.at_m.x, height.at_m.y, height.height_m, height.sigma_m}});
  }
  return write_facet_table(rows, height_table());
}

}  // namespace files
