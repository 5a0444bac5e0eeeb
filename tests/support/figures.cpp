// Keeps the recorded figures of one test program and writes them when its run ends.
// The store is a function static: doctest gives test cases no other common place.
#include "support/figures.h"

#include <cstdio>
#include <map>

#include "support/append.h"

namespace support {
namespace {

struct Store {
  std::map<std::string, double> figures;
  bool clash = false;
};

Store& store() {
  static Store kept;
  return kept;
}

}  // namespace

void record_figure(const std::string& name, double value) {
  const auto [place, fresh] = store().figures.emplace(name, value);
  if (!fresh && place->second != value) {
    std::fprintf(stderr, "figure \"%s\" was recorded twice: %.17g and %.17g\n", name.c_str(),
                 place->second, value);
    store().clash = true;
  }
}

bool write_recorded_figures() {
  std::string lines;
  for (const auto& [name, value] : store().figures) {
    char number[40];
    std::snprintf(number, sizeof number, "\t%.17g\n", value);
    lines += name + number;
  }
  return append_to_named_file("FW_FIGURES", lines) && !store().clash;
}

}  // namespace support
