// The rows of a table as a regular grid.
#include "files/sag_map.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "dish/ranges.h"
#include "files/csv.h"
#include "files/plain_text.h"
#include "files/read_log.h"
#include "files/unit_text.h"

namespace files {
namespace {

using dish::ranges::Quantity;
using dish::ranges::Unit;

constexpr const char* k_shape =
    "a grid: \"v_mm/u_mm\" and the u of each column, then rows of v and "
    "heights, all in mm";

double whole_nanometres(double metres) { return std::nearbyint(metres * 1e9) / 1e9; }

/// First and step of places at even steps.
struct Axis {
  double first_m = 0.0;
  double step_m = 0.0;
};

class MapReader {
 public:
  MapReader(const CsvTable& table, std::string_view file_name)
      : table_(table), log_{.file_name = std::string(file_name)} {}

  base::Result<dish::SagMap> read() {
    if (take_shape()) {
      take_places();
      for (std::size_t row = 1; row < table_.rows.size() && !log_.full(); ++row) take_row(row);
    }
    if (!log_.problems.empty()) return log_.problems;
    return std::move(map_);
  }

 private:
  bool take_shape() {
    const std::size_t most = dish::k_most_map_side;
    if (table_.rows.empty()) {
      log_.problems.push_back({log_.file_name, "no rows", k_shape});
      return false;
    }
    const CsvRow& head = table_.rows.front();
    const std::size_t columns = head.fields.size() - 1;
    const std::size_t rows = table_.rows.size() - 1;
    if (columns < 2 || columns > most || rows < 2 || rows > most) {
      log_.problem(head.line, "", fmt::format("{} columns and {} rows of heights", columns, rows),
                   fmt::format("2 to {} of both; {}", most, k_shape));
      return false;
    }
    if (number(head.fields.front())) {
      log_.problem(head.line, "column 1", shortened(head.fields.front()),
                   fmt::format("a word; {}", k_shape));
      return false;
    }
    map_.columns = static_cast<int>(columns);
    map_.rows = static_cast<int>(rows);
    map_.sag_m.resize(columns * rows);
    return true;
  }

  [[nodiscard]] std::optional<double> number(std::string_view field) const {
    return number_in_field(field, table_.separator, -3);
  }

  std::optional<double> take_number(const CsvRow& row, std::size_t column, Quantity quantity) {
    const std::string_view text =
        column < row.fields.size() ? std::string_view(row.fields[column]) : std::string_view();
    const std::optional<double> found = number(text);
    if (found && dish::ranges::in_range(quantity, *found)) return found;
    const std::string range = dish::ranges::range_text(quantity);
    log_.problem(row.line, fmt::format("column {}", column + 1),
                 text.empty() ? "empty" : shortened(text), found ? range : "a number, " + range);
    return std::nullopt;
  }

  void take_places() {
    std::vector<double> u;
    const CsvRow& head = table_.rows.front();
    for (std::size_t k = 1; k < head.fields.size() && !log_.full(); ++k) {
      if (const auto place = take_number(head, k, Quantity::map_first)) u.push_back(*place);
    }
    std::vector<double> v;
    for (std::size_t k = 1; k < table_.rows.size() && !log_.full(); ++k) {
      if (const auto place = take_number(table_.rows[k], 0, Quantity::map_first)) {
        v.push_back(*place);
      }
    }
    if (!log_.problems.empty()) return;
    is_top_down_ = v.front() > v.back();
    if (is_top_down_) std::reverse(v.begin(), v.end());
    const Axis along = take_axis(u, "u");
    const Axis up = take_axis(v, "v");
    map_.first_m = {along.first_m, up.first_m};
    map_.step_m = {along.step_m, up.step_m};
  }

  Axis take_axis(const std::vector<double>& places, const char* name) {
    const double step = (places.back() - places.front()) / static_cast<double>(places.size() - 1);
    const int line = table_.rows.front().line;
    Axis axis{whole_nanometres(places.front()), whole_nanometres(step)};
    // Rounding up must not push the last place out of range.
    const double last = axis.first_m + axis.step_m * static_cast<double>(places.size() - 1);
    if (last > dish::ranges::of(Quantity::map_first).most) axis.step_m -= 1e-9;
    if (!dish::ranges::in_range(Quantity::map_step, axis.step_m)) {
      log_.problem(line, name, "a step of " + dish::ranges::value_text(Quantity::map_step, step),
                   "places that rise by " + dish::ranges::range_text(Quantity::map_step));
      return axis;
    }
    for (std::size_t k = 0; k < places.size(); ++k) {
      const double even = places.front() + step * static_cast<double>(k);
      if (std::abs(places[k] - even) <= 0.01 * step) continue;
      log_.problem(line, name, dish::ranges::value_text(Quantity::map_first, places[k]),
                   "even steps: " + dish::ranges::value_text(Quantity::map_first, even) + " here");
      break;
    }
    return axis;
  }

  void take_row(std::size_t row) {
    const CsvRow& from = table_.rows[row];
    const auto columns = static_cast<std::size_t>(map_.columns);
    if (from.fields.size() > columns + 1) {
      log_.problem(from.line, "", fmt::format("{} fields", from.fields.size()),
                   fmt::format("{}, as in the first row", columns + 1));
      return;
    }
    const std::size_t target = is_top_down_ ? table_.rows.size() - 1 - row : row - 1;
    for (std::size_t k = 0; k < columns && !log_.full(); ++k) {
      if (const auto sag = take_number(from, k + 1, Quantity::map_sag)) {
        map_.sag_m[target * columns + k] = *sag;
      }
    }
  }

  const CsvTable& table_;
  ReadLog log_;
  dish::SagMap map_;
  bool is_top_down_ = false;
};

std::string place_text(double first_m, double step_m, int k) {
  return text_from_si(Unit::millimetre, whole_nanometres(first_m + k * step_m));
}

}  // namespace

base::Result<dish::SagMap> read_sag_map(std::string_view bytes, std::string_view file_name) {
  if (bytes.size() > k_sag_map_cap_bytes) {
    return base::Problem{std::string(file_name),
                         fmt::format("{:.1f} MB", static_cast<double>(bytes.size()) / 1e6),
                         fmt::format("a table of at most {} MB", k_sag_map_cap_bytes >> 20U)};
  }
  const base::Result<CsvTable> table = read_csv(bytes, file_name);
  if (!table) return table.problems();
  return MapReader(table.value(), file_name).read();
}

std::string write_sag_map(const dish::SagMap& map) {
  std::string out = "v_mm/u_mm";
  for (int k = 0; k < map.columns; ++k) {
    out += "," + place_text(map.first_m.x, map.step_m.x, k);
  }
  const double* height = map.sag_m.data();
  for (int row = 0; row < map.rows; ++row) {
    out += "\n" + place_text(map.first_m.y, map.step_m.y, row);
    for (int k = 0; k < map.columns; ++k) out += "," + text_from_si(Unit::millimetre, *height++);
  }
  return out + "\n";
}

}  // namespace files
