// Finds and reads files of the source tree for tests and fuzz programs.
// Only this file knows the path of the tree, so that all others compile to the same bytes
// everywhere.
#include "support/paths.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

namespace support {

std::string source_path(const std::string& relative) {
  return std::string(FW_SOURCE_DIR) + "/" + relative;
}

std::string read_whole_file(const std::string& path) {
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) {
    std::fprintf(stderr, "cannot read %s\n", path.c_str());
    std::exit(1);
  }
  std::string bytes;
  char block[65536];
  for (std::size_t got = 0; (got = std::fread(block, 1, sizeof block, file)) > 0;)
    bytes.append(block, got);
  std::fclose(file);
  return bytes;
}

std::vector<std::string> files_below(const std::string& relative) {
  namespace fs = std::filesystem;
  std::vector<std::string> found;
  std::error_code missing;
  for (fs::recursive_directory_iterator it(source_path(relative), missing), end; it != end;
       it.increment(missing))
    if (it->is_regular_file(missing)) found.push_back(it->path().string());
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace support
