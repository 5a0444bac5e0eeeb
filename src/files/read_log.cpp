// Collecting problems and notes, not without end.
#include "files/read_log.h"

#include <fmt/format.h>

namespace files {
namespace {

constexpr std::size_t k_note_cap = 50;

}  // namespace

std::string ReadLog::where(int line, const std::string& place) const {
  return fmt::format("{}, line {}{}{}", file_name, line, place.empty() ? "" : ", ", place);
}

void ReadLog::problem(int line, const std::string& place, std::string value, std::string expected) {
  if (full()) return;
  problems.push_back({where(line, place), std::move(value), std::move(expected)});
}

void ReadLog::note(int line, const std::string& place, const std::string& text) {
  if (notes.size() > k_note_cap) return;
  if (notes.size() == k_note_cap) {
    notes.push_back(file_name + ": more notes of this kind are not listed");
    return;
  }
  notes.push_back(where(line, place) + ": " + text);
}

}  // namespace files
