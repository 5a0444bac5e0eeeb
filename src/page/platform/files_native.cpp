// Files of the native page: dropped on its window, saved into the working folder.
#include "page/platform/files.h"

#include <GLFW/glfw3.h>

#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <utility>

#include "page/platform/native_window.h"
#include "page/platform/window.h"

namespace platform {
namespace {

std::vector<DroppedFile>& dropped() {
  static std::vector<DroppedFile> kept;
  return kept;
}

void on_drop(GLFWwindow*, int count, const char** paths) {
  for (int index = 0; index < count; ++index) {
    std::ifstream file(paths[index], std::ios::binary);
    DroppedFile arrived;
    arrived.name = std::filesystem::path(paths[index]).filename().string();
    if (!file) arrived.trouble = "it cannot be opened";
    arrived.bytes.assign(std::istreambuf_iterator<char>(file), {});
    dropped().push_back(std::move(arrived));
  }
  request_frames(3);
}

}  // namespace

void open_file_dialog(const std::string& accept) {
  std::cerr << "drop files (" << accept << ") on the window: the native page has no chooser\n";
}

std::vector<DroppedFile> take_dropped_files() {
  glfwSetDropCallback(native_window(), on_drop);
  return std::exchange(dropped(), {});
}

bool files_hover() { return false; }

void save_file(const std::string& name, const std::string&, const std::string& bytes) {
  const std::string bare = std::filesystem::path(name).filename().string();
  std::ofstream(bare, std::ios::binary) << bytes;
  std::cerr << "saved " << bare << " in the working folder\n";
}

void print_pages(const std::vector<std::string>& svg_pages) {
  for (std::size_t index = 0; index < svg_pages.size(); ++index)
    save_file("sheet-" + std::to_string(index + 1) + ".svg", "image/svg+xml", svg_pages[index]);
}

}  // namespace platform
