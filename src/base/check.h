// Checks of our own reasoning, always on: a failed one is a fault in the program, never in the
// person's input. Bad input is a value (base/result.h).
#pragma once

namespace base {

/// Prints the sentence with its place and ends the program; in the page the host shows it.
[[noreturn]] void fail_check(const char* condition, const char* sentence, const char* file,
                             int line);

}  // namespace base

#define CHECK(condition, sentence)                                                 \
  do {                                                                             \
    if (!(condition)) ::base::fail_check(#condition, sentence, __FILE__, __LINE__); \
  } while (false)
