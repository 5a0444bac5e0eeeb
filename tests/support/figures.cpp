// Keeps the recorded figures of one test program and writes them when its run ends.
// The store is a function static: doctest gives test cases no other common place.
#include "support/figures.h"

#include <cstdio>
#include <cstdlib>
#include <map>

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
  const char* path = std::getenv("FW_FIGURES");
  if (path == nullptr || store().figures.empty()) return !store().clash;
  std::FILE* file = std::fopen(path, "a");
  if (file == nullptr) {
    std::fprintf(stderr, "cannot write the figures file %s\n", path);
    return false;
  }
  // One write for all: programs that run at the same time append to the same file.
  std::string lines;
  for (const auto& [name, value] : store().figures) {
    char number[40];
    std::snprintf(number, sizeof number, "\t%.17g\n", value);
    lines += name + number;
  }
  std::setvbuf(file, nullptr, _IONBF, 0);
  const bool whole = std::fwrite(lines.data(), 1, lines.size(), file) == lines.size();
  return std::fclose(file) == 0 && whole && !store().clash;
}

}  // namespace support
