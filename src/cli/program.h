// The native program from its words to its exit code.
#pragma once

#include <string>
#include <vector>

#include "cli/console.h"

namespace cli {

/// Carries out the command that the words (without the program's name) ask for. Returns 0 done,
/// 2 bad input, 1 when standard output cannot be written.
int run_program(const std::vector<std::string>& words, const Console& console);

}  // namespace cli
