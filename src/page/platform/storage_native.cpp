// Keeps what the page remembers as files in the person's own data folder.
#include "page/platform/storage.h"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

namespace platform {
namespace {

std::string& trouble() {
  static std::string sentence;
  return sentence;
}

std::filesystem::path folder() {
  if (const char* data = std::getenv("XDG_DATA_HOME"))
    return std::filesystem::path(data) / "facetwright";
  const char* home = std::getenv("HOME");
  return std::filesystem::path(home == nullptr ? "." : home) / ".local/share/facetwright";
}

}  // namespace

void store(const std::string& key, const std::string& bytes) {
  std::error_code failed;
  std::filesystem::create_directories(folder(), failed);
  const std::filesystem::path whole = folder() / key;
  const std::filesystem::path half = folder() / (key + ".new");
  std::ofstream(half, std::ios::binary) << bytes;
  std::filesystem::rename(half, whole, failed);
  trouble() =
      failed ? "Your work cannot be kept in " + folder().string() + ": " + failed.message() : "";
}

void load_all(const std::function<void(const std::string& key, const std::string& bytes)>& take) {
  std::error_code failed;
  std::vector<std::filesystem::path> paths;
  for (const auto& entry : std::filesystem::directory_iterator(folder(), failed))
    if (entry.path().extension() != ".new") paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  for (const std::filesystem::path& path : paths) {
    std::ifstream file(path, std::ios::binary);
    take(path.filename().string(), std::string(std::istreambuf_iterator<char>(file), {}));
  }
}

std::string storage_trouble() { return trouble(); }

}  // namespace platform
