// One write for a whole text: programs that run at the same time append to the same file.
#include "support/append.h"

#include <cstdio>
#include <cstdlib>

namespace support {

bool append_to_named_file(const char* variable, const std::string& text) {
  const char* path = std::getenv(variable);
  if (path == nullptr || *path == '\0' || text.empty()) return true;
  std::FILE* file = std::fopen(path, "a");
  if (file == nullptr) {
    std::fprintf(stderr, "cannot write the file %s that %s names\n", path, variable);
    return false;
  }
  std::setvbuf(file, nullptr, _IONBF, 0);
  const bool whole = std::fwrite(text.data(), 1, text.size(), file) == text.size();
  return std::fclose(file) == 0 && whole;
}

}  // namespace support
