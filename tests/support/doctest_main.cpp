// The main function of every doctest program.
// It runs the tests and then writes the figures they recorded, so that two builds can be compared
// number by number, and the checks against outside numbers, so that they can be counted.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include "support/figures.h"
#include "support/outside.h"

#if defined(__EMSCRIPTEN_tiny__) && __clang_major__ >= 15
// From clang 15 on, main has a name of its own in WebAssembly. The linker of Ubuntu 24.04 (3.1.6,
// which still tells its version this way) looks for the old one, and without it calls nothing.
int main(int argc, char** argv) __asm__("main");
#endif

int main(int argc, char** argv) {
  doctest::Context context(argc, argv);
  const int failed = context.run();
  if (context.shouldExit()) return failed;
  const bool figures = support::write_recorded_figures();
  const bool outside = support::write_outside_checks();
  return figures && outside ? failed : 1;
}
