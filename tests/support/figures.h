// Figures that a test wants to be equal in every build: native and WebAssembly.
// tests/run compares the two files that the two builds write.
#pragma once

#include <string>

namespace support {

/// Remembers `value` under `name`. A name may be recorded once per program; names sort the file.
/// Only finite values and results that do not depend on time or on the number of workers belong
/// here.
void record_figure(const std::string& name, double value);

/// Appends all recorded figures, "name<TAB>%.17g" one a line, sorted by name, to the file that the
/// environment variable FW_FIGURES names. Does nothing without it. Returns false when a name came
/// twice with different values or the file cannot be written.
bool write_recorded_figures();

}  // namespace support
