// Observed spots as a table in text: a CSV file, or rows pasted from a spreadsheet.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace files {

/// One row: where the spot of a facet was seen on the board, as someone who faces its lit side
/// reads it.
struct SpotRow {
  std::string facet;
  double right_m = 0.0;
  double up_m = 0.0;
  std::optional<double> sigma_m;  ///< per axis, > 0
  int line = 0;                   ///< 1-based, for messages
};

struct ReadSpots {
  std::vector<SpotRow> rows;
  std::vector<std::string> notes;  ///< columns that were not used, and the like
};

/// Largest text that is looked at.
inline constexpr std::size_t k_spots_file_cap_bytes = 16u << 20u;

/// Reads `facet,right_mm,up_mm[,sigma_mm]`: columns in any order by their header, or in this order
/// when there is no header (pasted text). Comma, semicolon or tab between fields; a decimal comma
/// where the separator is not a comma; byte-order mark, CRLF, quotes, blank lines and # comments.
/// Problems, at most 20 in one go, name file, line and column: no or bad columns, fields that are
/// no numbers or out of range, a facet in two rows, binary or too large input.
/// Rows without both positions are skipped with a note.
base::Result<ReadSpots> read_spots(std::string_view bytes, std::string_view file_name);

/// The same table as canonical CSV: comma, LF, the sigma column only when a row has one.
std::string write_spots(const std::vector<SpotRow>& rows);

/// One problem for each row whose facet the dish does not have, naming the closest id it does have.
base::Problems match_spots(const std::vector<SpotRow>& rows, const dish::Dish& dish,
                           std::string_view file_name);

/// Rows as spots of a round. Every facet must exist (see match_spots).
std::vector<dish::Spot> to_spots(const std::vector<SpotRow>& rows);

}  // namespace files
