// Rows of a table as readings of facets.
#include "files/facet_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "base/closest.h"
#include "files/csv.h"
#include "files/json_cursor.h"
#include "files/plain_text.h"
#include "files/unit_text.h"

namespace files {
namespace {

std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

/// Collects rows, problems and notes of one table.
class FacetTableReader {
 public:
  FacetTableReader(const CsvTable& table, std::string_view file_name, const FacetTableKind& kind)
      : table_(table), kind_(kind), log_{.file_name = std::string(file_name)} {
    names_.emplace_back("facet");
    for (const NumberColumn& column : kind.columns) {
      names_.emplace_back(column.name);
      if (column.needed) ++needed_;
    }
    place_.resize(names_.size());
  }

  base::Result<FacetTable> read() {
    if (table_.rows.empty()) {
      return base::Problem{log_.file_name, "no rows", fmt::format("a table {}", kind_.header)};
    }
    const bool has_header = is_header(table_.rows.front());
    if (has_header) {
      take_header(table_.rows.front());
    } else if (table_.rows.front().fields.size() < needed_) {
      log_.problem(table_.rows.front().line, "", shortened(table_.rows.front().fields.front()),
                   fmt::format("a table {}", kind_.header));
    } else {
      take_usual_columns();
    }
    if (!log_.problems.empty()) return log_.problems;
    for (std::size_t i = has_header ? 1 : 0; i < table_.rows.size() && !log_.full(); ++i) {
      take_row(table_.rows[i]);
    }
    if (!log_.problems.empty()) return log_.problems;
    return FacetTable{.rows = std::move(rows_), .notes = std::move(log_.notes)};
  }

 private:
  /// Whether a row names columns: any of ours, or no number where the first two should stand.
  [[nodiscard]] bool is_header(const CsvRow& row) const {
    for (const std::string& field : row.fields) {
      if (std::find(names_.begin(), names_.end(), lowered(field)) != names_.end()) return true;
    }
    return row.fields.size() > 2 && !number_in_field(row.fields[1], table_.separator, 0) &&
           !number_in_field(row.fields[2], table_.separator, 0);
  }

  void take_header(const CsvRow& row) {
    field_count_ = row.fields.size();
    for (std::size_t i = 0; i < row.fields.size(); ++i) {
      const std::string name = lowered(row.fields[i]);
      const auto known = std::find(names_.begin(), names_.end(), name);
      if (known == names_.end()) {
        log_.note(row.line, column_words(i),
                  fmt::format("\"{}\" is not used", shortened(row.fields[i])));
        continue;
      }
      std::optional<std::size_t>& place = place_[static_cast<std::size_t>(known - names_.begin())];
      if (place) {
        log_.problem(row.line, column_words(i), name + " for the second time", "each column once");
      }
      place = i;
    }
    for (std::size_t i = 0; i < needed_; ++i) {
      if (place_[i]) continue;
      log_.problem(row.line, fmt::format("column {}", names_[i]), "missing",
                   fmt::format("a header {}", kind_.header));
    }
  }

  void take_usual_columns() {
    for (std::size_t i = 0; i < names_.size(); ++i) place_[i] = i;
    field_count_ = names_.size();
  }

  static std::string column_words(std::size_t field) { return fmt::format("column {}", field + 1); }

  /// Text of one of our columns in a row; empty when the row or the table has none.
  [[nodiscard]] std::string_view field(const CsvRow& row, std::size_t column) const {
    if (!place_[column] || *place_[column] >= row.fields.size()) return {};
    return row.fields[*place_[column]];
  }

  bool take_number(const CsvRow& row, std::size_t column, std::optional<double>& si) {
    const NumberColumn& number = kind_.columns[column - 1];
    const std::string_view text = field(row, column);
    if (text.empty() && !number.needed) return true;
    const auto unit = dish::ranges::of(number.quantity).unit;
    const auto value = si_in_field(text, table_.separator, unit);
    if (value && dish::ranges::in_range(number.quantity, *value)) {
      si = *value;
      return true;
    }
    const std::string place = fmt::format("{} ({})", column_words(*place_[column]), number.name);
    const std::string range = dish::ranges::range_text(number.quantity);
    log_.problem(row.line, place, text.empty() ? "empty" : shortened(text),
                 value ? range : "a number, " + range);
    return false;
  }

  void take_row(const CsvRow& row) {
    if (row.fields.size() > field_count_) {
      log_.problem(row.line, "", fmt::format("{} fields", row.fields.size()),
                   fmt::format("{} (where the comma is the decimal sign, separate fields by "
                               "semicolons)",
                               field_count_));
      return;
    }
    FacetRow read{.facet = std::string(field(row, 0)), .line = row.line};
    read.si.resize(kind_.columns.size());
    if (read.facet.empty() || !is_name(read.facet)) {
      log_.problem(row.line, column_words(*place_[0]) + " (facet)",
                   read.facet.empty() ? "empty" : shortened(read.facet), "the id of a facet");
      return;
    }
    bool any = false;
    for (std::size_t column = 1; column < needed_; ++column) {
      any = any || !field(row, column).empty();
    }
    if (!any) {
      log_.note(row.line, "", fmt::format("facet {} has no {}", read.facet, kind_.reading));
      return;
    }
    bool good = true;
    for (std::size_t column = 1; column < names_.size(); ++column) {
      good = take_number(row, column, read.si[column - 1]) && good;
    }
    if (good && (!kind_.each_facet_once || is_first(read))) rows_.push_back(std::move(read));
  }

  bool is_first(const FacetRow& row) {
    const auto [earlier, is_new] = line_of_.emplace(row.facet, row.line);
    if (is_new) return true;
    log_.problem(row.line, "", fmt::format("facet {} for the second time", row.facet),
                 fmt::format("each facet once (the first is in line {})", earlier->second));
    return false;
  }

  const CsvTable& table_;
  const FacetTableKind& kind_;
  ReadLog log_;
  std::vector<std::string> names_;                 ///< "facet" and the columns
  std::size_t needed_ = 1;                         ///< of them
  std::vector<std::optional<std::size_t>> place_;  ///< field of each of our columns
  std::size_t field_count_ = 0;
  std::vector<FacetRow> rows_;
  std::map<std::string, int> line_of_;
};

bool any_has(const std::vector<FacetRow>& rows, std::size_t column) {
  return std::any_of(rows.begin(), rows.end(),
                     [&](const FacetRow& row) { return row.si[column].has_value(); });
}

}  // namespace

base::Result<FacetTable> read_facet_table(std::string_view bytes, std::string_view file_name,
                                          const FacetTableKind& kind) {
  if (bytes.size() > k_facet_table_cap_bytes) {
    return base::Problem{std::string(file_name),
                         fmt::format("{:.1f} MB", static_cast<double>(bytes.size()) / 1e6),
                         fmt::format("a table of at most {} MB", k_facet_table_cap_bytes >> 20U)};
  }
  const base::Result<CsvTable> table = read_csv(bytes, file_name);
  if (!table) return table.problems();
  return FacetTableReader(table.value(), file_name, kind).read();
}

std::string write_facet_table(const std::vector<FacetRow>& rows, const FacetTableKind& kind) {
  std::string out = "facet";
  std::vector<std::size_t> shown;
  for (std::size_t i = 0; i < kind.columns.size(); ++i) {
    if (!kind.columns[i].needed && !any_has(rows, i)) continue;
    shown.push_back(i);
    out += std::string(",") + kind.columns[i].name;
  }
  out += "\n";
  for (const FacetRow& row : rows) {
    out += csv_field(row.facet);
    for (const std::size_t i : shown) {
      const auto unit = dish::ranges::of(kind.columns[i].quantity).unit;
      out += ",";
      if (row.si[i]) out += text_from_si(unit, *row.si[i]);
    }
    out += "\n";
  }
  return out;
}

base::Problems match_facet_rows(const std::vector<FacetRow>& rows, const dish::Dish& dish,
                                std::string_view file_name) {
  std::vector<std::string> ids;
  for (const dish::Facet& facet : dish.facets) ids.push_back(facet.id.text);
  const std::set<std::string> known(ids.begin(), ids.end());
  ReadLog log{.file_name = std::string(file_name)};
  for (const FacetRow& row : rows) {
    if (log.full()) break;
    if (known.count(row.facet) > 0) continue;
    const std::optional<std::string> closest = base::closest(row.facet, ids);
    log.problem(row.line, "", fmt::format("facet {}", shortened(row.facet)),
                closest ? fmt::format("a facet of this dish (is it {}?)", *closest)
                        : "a facet of this dish");
  }
  return log.problems;
}

}  // namespace files
