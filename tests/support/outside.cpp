// Keeps the outside checks of one test program and writes them when its run ends.
// The store is a function static: doctest gives test cases no other common place.
#include "support/outside.h"

#include <cmath>
#include <cstdio>
#include <set>

#include "support/append.h"

#include <doctest/doctest.h>

namespace support {
namespace {

struct Checks {
  std::set<std::string> names;
  std::string lines;
  bool clash = false;
};

Checks& checks() {
  static Checks kept;
  return kept;
}

std::string digits(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.13g", value);
  return text;
}

/// "align/cases_test.cpp" of the running test's file.
std::string running_file() {
  const std::string path = doctest::getContextOptions()->currentTest->m_file.c_str();
  const std::size_t name = path.rfind('/');
  const std::size_t folder = name == std::string::npos ? name : path.rfind('/', name - 1);
  return folder == std::string::npos ? path : path.substr(folder + 1);
}

}  // namespace

void check_outside(const OutsideCheck& check) {
  const std::string ours = check.what + ": ours is " + digits(check.ours);
  const double off = std::abs(check.ours - check.outside);
  CHECK_MESSAGE(off <= check.tolerance, ours, ", ", check.source, " has ", digits(check.outside),
                ", apart by ", off, ", allowed ", check.tolerance, " (", check.why, ")");
  const double size = std::fmax(std::abs(check.pin), check.tolerance);
  CHECK_MESSAGE(std::abs(check.ours - check.pin) <= check.tightness * size, ours, ", it was ",
                digits(check.pin), " when it was last compared");
  if (!checks().names.insert(check.what).second) {
    std::fprintf(stderr, "the outside check \"%s\" came twice\n", check.what.c_str());
    checks().clash = true;
  }
  checks().lines += running_file() + '\t' + check.what + '\t' + check.source + '\t' +
                    digits(check.outside) + '\t' + digits(check.ours) + '\t' +
                    digits(check.tolerance) + '\t' + check.why + '\n';
}

bool write_outside_checks() {
  return append_to_named_file("FW_OUTSIDE", checks().lines) && !checks().clash;
}

}  // namespace support
