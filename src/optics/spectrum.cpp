// The table that is built into the program.
#include "optics/spectrum.h"

#include <array>

#include "base/check.h"
#include "embedded/spectrum_files.h"
#include "files/csv.h"

namespace optics {
namespace {

std::vector<SpectrumNode> read_nodes() {
  const auto file = embedded::spectrum_files().front();
  const auto table = files::read_csv(file.bytes, file.name);
  BASE_CHECK(table.ok() && table.value().rows.size() > 2, "the built-in spectrum is a table");
  std::vector<SpectrumNode> nodes;
  for (std::size_t row = 1; row < table.value().rows.size(); ++row) {
    const std::vector<std::string>& fields = table.value().rows[row].fields;
    constexpr std::size_t columns = 15;
    BASE_CHECK(fields.size() == columns, "every row of the built-in spectrum is full");
    std::array<double, columns> x{};
    for (std::size_t k = 0; k < columns; ++k) {
      const auto number = files::number_in_field(fields[k], table.value().separator, 0);
      BASE_CHECK(number.has_value(), "the built-in spectrum holds numbers");
      x[k] = *number;
    }
    nodes.push_back({.wavelength_nm = x[0],
                     .weight_W_m2 = x[2],
                     .silver = {x[3], x[4]},
                     .aluminium = {x[5], x[6]},
                     .gold = {x[7], x[8]},
                     .copper = {x[9], x[10]},
                     .acrylic = {x[11], x[12]},
                     .glass = {x[13], x[14]}});
  }
  return nodes;
}

}  // namespace

const std::vector<SpectrumNode>& solar_spectrum() {
  static const std::vector<SpectrumNode> nodes = read_nodes();
  return nodes;
}

}  // namespace optics
