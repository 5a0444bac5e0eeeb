// Which version of the program this is.
#pragma once

#include <string>

namespace cli {

inline constexpr const char* k_version = "0.1.0";

/// One line: name and version.
std::string version_text();

}  // namespace cli
