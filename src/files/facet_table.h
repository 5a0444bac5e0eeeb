// Tables of readings with a facet in each row: spots, leans, heights. One reader for all, told
// which columns there are.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/ranges.h"

namespace files {

/// A column of numbers; its name ends in its unit.
struct NumberColumn {
  const char* name;
  dish::ranges::Quantity quantity;
  bool needed = true;  ///< the needed ones stand first
};

struct FacetTableKind {
  std::vector<NumberColumn> columns;  ///< after the column "facet"
  const char* header;                 ///< for messages, e.g. "facet,right_mm,up_mm[,sigma_mm]"
  const char* reading;                ///< what a row holds, e.g. "spot"
  bool each_facet_once = true;
};

struct FacetRow {
  std::string facet;
  std::vector<std::optional<double>> si;  ///< one for each column; the needed ones are there
  int line = 0;                           ///< 1-based, for messages
};

struct FacetTable {
  std::vector<FacetRow> rows;
  std::vector<std::string> notes;  ///< columns that were not used, and the like
};

/// Largest text that is looked at.
inline constexpr std::size_t k_facet_table_cap_bytes = 16u << 20u;

/// Reads columns in any order by their header, or in the kind's order when there is no header
/// (pasted text). Comma, semicolon or tab between fields; a decimal comma where the separator is
/// not a comma; byte-order mark, CRLF, quotes, blank lines and # comments.
/// Problems, at most 20 in one go, name file, line and column: no or bad columns, fields that are
/// no numbers or out of range, a facet in two rows where that cannot be, binary or too large input.
/// Rows without any of the needed numbers are skipped with a note.
base::Result<FacetTable> read_facet_table(std::string_view bytes, std::string_view file_name,
                                          const FacetTableKind& kind);

/// The same table as canonical CSV: comma, LF, optional columns only when a row has a value.
std::string write_facet_table(const std::vector<FacetRow>& rows, const FacetTableKind& kind);

/// One problem for each row whose facet the dish does not have, naming the closest id it does have.
base::Problems match_facet_rows(const std::vector<FacetRow>& rows, const dish::Dish& dish,
                                std::string_view file_name);

}  // namespace files
