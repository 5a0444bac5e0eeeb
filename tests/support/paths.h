// Where the tests find the files of the source tree (demo dishes, reference tables, fixtures).
// The same paths serve native programs and programs that run under node.
#pragma once

#include <string>
#include <vector>

namespace support {

/// Full path of a file of the source tree, e.g. source_path("assets/larch-refuge.dish.json").
std::string source_path(const std::string& relative);

/// All bytes of a file. Stops the program with a sentence when it cannot be read: a test without
/// its data must not pass.
std::string read_whole_file(const std::string& path);

/// Full paths of all files below a folder of the source tree, sorted; empty when there is no such
/// folder.
std::vector<std::string> files_below(const std::string& relative);

}  // namespace support
