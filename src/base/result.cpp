// Turns problems into the lines a person reads.
#include "base/result.h"

namespace base {

std::string to_line(const Problem& problem) {
  std::string line = problem.place;
  if (!problem.value.empty()) line += (line.empty() ? "" : ": ") + problem.value;
  if (!problem.expected.empty()) line += (line.empty() ? "" : "; expected ") + problem.expected;
  return line;
}

std::string to_text(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) text += to_line(problem) + "\n";
  return text;
}

}  // namespace base
