// Rows of a table as observed spots.
#include "files/spots.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/closest.h"
#include "dish/ranges.h"
#include "files/csv.h"
#include "files/json_cursor.h"
#include "files/plain_text.h"
#include "files/unit_text.h"

namespace files {
namespace {

using dish::ranges::Quantity;

constexpr std::array<const char*, 4> k_spot_columns{"facet", "right_mm", "up_mm", "sigma_mm"};
constexpr std::size_t k_needed_columns = 3;
constexpr const char* k_header = "facet,right_mm,up_mm[,sigma_mm]";

std::string lowered(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return out;
}

/// Collects rows, problems and notes of one table.
class SpotsReader {
 public:
  SpotsReader(const CsvTable& table, std::string_view file_name)
      : table_(table), log_{.file_name = std::string(file_name)} {}

  base::Result<ReadSpots> read() {
    if (table_.rows.empty()) {
      return base::Problem{log_.file_name, "no rows", fmt::format("a table {}", k_header)};
    }
    const bool has_header = is_header(table_.rows.front());
    if (has_header) {
      take_header(table_.rows.front());
    } else if (table_.rows.front().fields.size() < k_needed_columns) {
      log_.problem(table_.rows.front().line, "", shortened(table_.rows.front().fields.front()),
                   fmt::format("a table {}", k_header));
    } else {
      take_usual_columns();
    }
    if (!log_.problems.empty()) return log_.problems;
    for (std::size_t i = has_header ? 1 : 0; i < table_.rows.size() && !log_.full(); ++i) {
      take_row(table_.rows[i]);
    }
    if (!log_.problems.empty()) return log_.problems;
    return ReadSpots{.rows = std::move(rows_), .notes = std::move(log_.notes)};
  }

 private:
  /// Whether a row names columns: any of ours, or no number where the positions should stand.
  [[nodiscard]] bool is_header(const CsvRow& row) const {
    for (const std::string& field : row.fields) {
      const std::string name = lowered(field);
      if (std::find(k_spot_columns.begin(), k_spot_columns.end(), name) != k_spot_columns.end())
        return true;
    }
    return row.fields.size() > 2 && !number_in_field(row.fields[1], table_.separator, 0) &&
           !number_in_field(row.fields[2], table_.separator, 0);
  }

  void take_header(const CsvRow& row) {
    field_count_ = row.fields.size();
    for (std::size_t i = 0; i < row.fields.size(); ++i) {
      const std::string name = lowered(row.fields[i]);
      const auto known = std::find(k_spot_columns.begin(), k_spot_columns.end(), name);
      if (known == k_spot_columns.end()) {
        log_.note(row.line, column_words(i),
                  fmt::format("\"{}\" is not used", shortened(row.fields[i])));
        continue;
      }
      std::optional<std::size_t>& place =
          place_[static_cast<std::size_t>(known - k_spot_columns.begin())];
      if (place) {
        log_.problem(row.line, column_words(i), name + " for the second time", "each column once");
      }
      place = i;
    }
    for (std::size_t i = 0; i < k_needed_columns; ++i) {
      if (place_[i]) continue;
      log_.problem(row.line, fmt::format("column {}", k_spot_columns[i]), "missing",
                   fmt::format("a header {}", k_header));
    }
  }

  void take_usual_columns() {
    for (std::size_t i = 0; i < k_spot_columns.size(); ++i) place_[i] = i;
    field_count_ = k_spot_columns.size();
  }

  static std::string column_words(std::size_t field) { return fmt::format("column {}", field + 1); }

  /// Text of one of our columns in a row; empty when the row or the table has none.
  [[nodiscard]] std::string_view field(const CsvRow& row, std::size_t column) const {
    if (!place_[column] || *place_[column] >= row.fields.size()) return {};
    return row.fields[*place_[column]];
  }

  bool take_number(const CsvRow& row, std::size_t column, Quantity quantity, double& si) {
    const std::string_view text = field(row, column);
    const std::optional<double> number = number_in_field(text, table_.separator, -3);
    if (number && dish::ranges::in_range(quantity, *number)) {
      si = *number;
      return true;
    }
    const std::string place =
        fmt::format("{} ({})", column_words(*place_[column]), k_spot_columns[column]);
    const std::string range = dish::ranges::range_text(quantity);
    log_.problem(row.line, place, text.empty() ? "empty" : shortened(text),
                 number ? range : "a number, " + range);
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
    SpotRow spot{.facet = std::string(field(row, 0)), .line = row.line};
    if (spot.facet.empty() || !is_name(spot.facet)) {
      log_.problem(row.line, column_words(*place_[0]) + " (facet)",
                   spot.facet.empty() ? "empty" : shortened(spot.facet), "the id of a facet");
      return;
    }
    if (field(row, 1).empty() && field(row, 2).empty()) {
      log_.note(row.line, "", fmt::format("facet {} has no spot", spot.facet));
      return;
    }
    bool good = take_number(row, 1, Quantity::spot_seen, spot.right_m);
    good = take_number(row, 2, Quantity::spot_seen, spot.up_m) && good;
    if (!field(row, 3).empty()) {
      double sigma = 0.0;
      good = take_number(row, 3, Quantity::spot_sigma, sigma) && good;
      spot.sigma_m = sigma;
    }
    if (good && is_first(spot)) rows_.push_back(std::move(spot));
  }

  bool is_first(const SpotRow& spot) {
    const auto [earlier, is_new] = line_of_.emplace(spot.facet, spot.line);
    if (is_new) return true;
    log_.problem(spot.line, "", fmt::format("facet {} for the second time", spot.facet),
                 fmt::format("each facet once (the first is in line {})", earlier->second));
    return false;
  }

  const CsvTable& table_;
  ReadLog log_;
  std::array<std::optional<std::size_t>, 4> place_;  ///< field of each of our columns
  std::size_t field_count_ = 0;
  std::vector<SpotRow> rows_;
  std::map<std::string, int> line_of_;
};

}  // namespace

base::Result<ReadSpots> read_spots(std::string_view bytes, std::string_view file_name) {
  if (bytes.size() > k_spots_file_cap_bytes) {
    return base::Problem{std::string(file_name),
                         fmt::format("{:.1f} MB", static_cast<double>(bytes.size()) / 1e6),
                         fmt::format("a table of at most {} MB", k_spots_file_cap_bytes >> 20U)};
  }
  const base::Result<CsvTable> table = read_csv(bytes, file_name);
  if (!table) return table.problems();
  return SpotsReader(table.value(), file_name).read();
}

std::string write_spots(const std::vector<SpotRow>& rows) {
  using dish::ranges::Unit;
  const bool has_sigma = std::any_of(rows.begin(), rows.end(),
                                     [](const SpotRow& row) { return row.sigma_m.has_value(); });
  std::string out = has_sigma ? "facet,right_mm,up_mm,sigma_mm\n" : "facet,right_mm,up_mm\n";
  for (const SpotRow& row : rows) {
    out += csv_field(row.facet) + "," + text_from_si(Unit::millimetre, row.right_m) + "," +
           text_from_si(Unit::millimetre, row.up_m);
    if (has_sigma) out += ",";
    if (row.sigma_m) out += text_from_si(Unit::millimetre, *row.sigma_m);
    out += "\n";
  }
  return out;
}

base::Problems match_spots(const std::vector<SpotRow>& rows, const dish::Dish& dish,
                           std::string_view file_name) {
  std::vector<std::string> ids;
  for (const dish::Facet& facet : dish.facets) ids.push_back(facet.id.text);
  const std::set<std::string> known(ids.begin(), ids.end());
  ReadLog log{.file_name = std::string(file_name)};
  for (const SpotRow& row : rows) {
    if (log.full()) break;
    if (known.count(row.facet) > 0) continue;
    const std::optional<std::string> closest = base::closest(row.facet, ids);
    log.problem(row.line, "", fmt::format("facet {}", shortened(row.facet)),
                closest ? fmt::format("a facet of this dish (is it {}?)", *closest)
                        : "a facet of this dish");
  }
  return log.problems;
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
