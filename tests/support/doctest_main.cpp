// The main function of every doctest program.
// It runs the tests and then writes the figures they recorded, so that two builds can be compared
// number by number, and the checks against outside numbers, so that they can be counted.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include "support/figures.h"
#include "support/outside.h"

int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int failed = context.run();
  if (context.shouldExit()) return failed;
  const bool figures = support::write_recorded_figures();
  const bool outside = support::write_outside_checks();
  return figures && outside ? failed : 1;
}
