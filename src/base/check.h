// Checks of our own reasoning, always on: a failed one is a fault in the program, never in the
// person's input. Bad input is a value (base/result.h).
#pragma once

namespace base {

/// Prints the sentence with its place and ends the program; in the page the host shows it.
[[noreturn]] void fail_check(const char* condition, const char* sentence, const char* file,
                             int line);

}  // namespace base

/// For headers: the test runner has a CHECK of its own, and both meet in test files.
#define BASE_CHECK(condition, sentence)                                             \
  do {                                                                              \
    if (!(condition)) ::base::fail_check(#condition, sentence, __FILE__, __LINE__); \
  } while (false)

/// For sources.
#ifndef DOCTEST_LIBRARY_INCLUDED
#define CHECK(condition, sentence) BASE_CHECK(condition, sentence)
#endif
