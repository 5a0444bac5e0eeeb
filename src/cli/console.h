// What the native program speaks through: the standard streams and files. The only file of the
// program, with its source, that touches either.
#pragma once

#include <cstdio>
#include <string>

#include "base/progress.h"
#include "base/result.h"

namespace cli {

inline constexpr int k_done = 0;
inline constexpr int k_internal_fault = 1;
inline constexpr int k_bad_input = 2;

struct Console {
  std::FILE* in = stdin;
  std::FILE* out = stdout;
  std::FILE* err = stderr;
};

/// All bytes of a file, or of standard input for "-". Problems: no such file, a folder, cannot be
/// read, more than `most_bytes`.
base::Result<std::string> read_input(const Console& console, const std::string& path,
                                     std::size_t most_bytes);

/// Writes a file whole: to a temporary name in the same folder, then renamed over `path`. On a
/// problem nothing is left behind and an older file stays as it was.
base::Result<base::Done> write_whole(const std::string& path, const std::string& bytes);

/// Bytes to standard output, flushed. Problem: it cannot take them (disk full, closed).
base::Result<base::Done> write_out(const Console& console, const std::string& text);

/// Each problem as one line on standard error, after the program's name. Returns k_bad_input.
int report(const Console& console, const base::Problems& problems);

/// A remark on standard error that is no problem.
void remark(const Console& console, const std::string& line);

/// Shows how far `what` is on standard error when that is a terminal; else says nothing.
base::Progress progress_of(const Console& console, const std::string& what);

/// Takes the progress line away.
void end_progress(const Console& console);

}  // namespace cli
