// Entry of the native program: words in, exit code out, and no fault without one.
#include <algorithm>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <string>
#include <vector>

#include "cli/console.h"
#include "cli/program.h"

int main(int count, char** words) {
  // A failed check has printed its sentence when it aborts; the exit code says whose fault it was.
  std::signal(SIGABRT, [](int) { std::_Exit(cli::k_internal_fault); });
  try {
    return cli::run_program(std::vector<std::string>(words + std::min(count, 1), words + count),
                            {});
  } catch (const std::exception& fault) {
    std::fprintf(stderr, "internal fault: %s\n", fault.what());
    return cli::k_internal_fault;
  }
}
