// The table of spots: its columns, and rows to spots.
#include "files/spots.h"

#include "files/facet_table.h"

namespace files {
namespace {

using dish::ranges::Quantity;

FacetTableKind spot_table() {
  return {.columns = {{"right_mm", Quantity::spot_seen},
                      {"up_mm", Quantity::spot_seen},
                      {"sigma_mm", Quantity::spot_sigma, false}},
          .header = "facet,right_mm,up_mm[,sigma_mm]",
          .reading = "spot"};
}

std::vector<FacetRow> to_rows(const std::vector<SpotRow>& spots) {
  std::vector<FacetRow> rows;
  rows.reserve(spots.size());
  for (const SpotRow& spot : spots) {
    rows.push_back({spot.facet, {spot.right_m, spot.up_m, spot.sigma_m}, spot.line});
  }
  return rows;
}

}  // namespace

base::Result<ReadSpots> read_spots(std::string_view bytes, std::string_view file_name) {
  const auto table = read_facet_table(bytes, file_name, spot_table());
  if (!table) return table.problems();
  ReadSpots read{.rows = {}, .notes = table.value().notes};
  for (const FacetRow& row : table.value().rows) {
    read.rows.push_back({row.facet, *row.si[0], *row.si[1], row.si[2], row.line});
  }
  return read;
}

std::string write_spots(const std::vector<SpotRow>& rows) {
  return write_facet_table(to_rows(rows), spot_table());
}

base::Problems match_spots(const std::vector<SpotRow>& rows, const dish::Dish& dish,
                           std::string_view file_name) {
  return match_facet_rows(to_rows(rows), dish, file_name);
}

std::vector<dish::Spot> to_spots(const std::vector<SpotRow>& rows) {
  std::vector<dish::Spot> spots;
  spots.reserve(rows.size());
  for (const SpotRow& row : rows) {
    spots.push_back(
        {.facet = {row.facet}, .seen_m = {row.right_m, row.up_m}, .sigma_m = row.sigma_m});
  }
  return spots;
}

}  // namespace files
