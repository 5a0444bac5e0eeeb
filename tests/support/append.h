// Test programs that run at the same time write their results to one file.
#pragma once

#include <string>

namespace support {

/// Appends a text, in one write, to the file that an environment variable names; does nothing
/// without the variable. Returns false, and says so, when the file cannot be written.
bool append_to_named_file(const char* variable, const std::string& text);

}  // namespace support
