// Readings of inclinometers and height gauges as tables in text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace files {

template <class Reading>
struct ReadReadings {
  std::vector<Reading> readings;
  std::vector<std::string> notes;  ///< columns that were not used, and the like
};

/// Reads `facet,edge_deg,reading_deg[,reversed_deg,sigma_deg]`, a facet in as many rows as it has
/// readings. Problems: as in `read_facet_table`, and facets that the dish does not have.
base::Result<ReadReadings<dish::Lean>> read_leans(std::string_view bytes,
                                                  std::string_view file_name,
                                                  const dish::Dish& dish);

/// Reads `facet,x_mm,y_mm,height_mm[,sigma_mm]`, likewise.
base::Result<ReadReadings<dish::GaugeHeight>> read_heights(std::string_view bytes,
                                                           std::string_view file_name,
                                                           const dish::Dish& dish);

/// The same tables as canonical CSV.
std::string write_leans(const std::vector<dish::Lean>& leans);
std::string write_heights(const std::vector<dish::GaugeHeight>& heights);

}  // namespace files
