// The main function of every doctest program.
// It runs the tests and then writes the figures they recorded, so that two builds can be compared
// number by number.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include "support/figures.h"

int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int failed = context.run();
  if (context.shouldExit()) return failed;
  const bool written = support::write_recorded_figures();
  return written ? failed : 1;
}
