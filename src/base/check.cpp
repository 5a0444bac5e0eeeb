// Ends the program on a broken invariant with one readable line.
#include "base/check.h"

#include <cstdio>
#include <cstdlib>

namespace base {

void fail_check(const char* condition, const char* sentence, const char* file, int line) {
  std::fprintf(stderr, "internal fault: %s (%s, %s:%d)\n", sentence, condition, file, line);
  std::abort();
}

}  // namespace base
