// Files by the browser's chooser, drag and drop, and download; the host reads and decodes them.
#include <emscripten.h>

#include <cstddef>
#include <utility>

#include "page/platform/files.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_open_files, (const char* accept), { Module.host.files.choose(UTF8ToString(accept)); });
EM_JS(void, host_save_file, (const char* name, const char* mime, const char* bytes, int length), {
  Module.host.files.save(UTF8ToString(name), UTF8ToString(mime), HEAPU8.slice(bytes, bytes + length));
});
EM_JS(void, host_add_print_page, (const char* svg), { Module.host.printer.add(UTF8ToString(svg)); });
EM_JS(void, host_print, (), { Module.host.printer.print(); });
// clang-format on

namespace {

struct Intake {
  std::vector<platform::DroppedFile> files;
  bool hover = false;
};

Intake& intake() {
  static Intake kept;
  return kept;
}

}  // namespace

extern "C" {

/// One file has been read. `pixels` is null unless it was a picture.
EMSCRIPTEN_KEEPALIVE void fw_file_arrived(const char* name, const char* bytes, int length,
                                          const unsigned char* pixels, int width, int height,
                                          double scale, const char* trouble) {
  platform::DroppedFile file;
  file.name = name;
  file.trouble = trouble;
  file.bytes.assign(bytes, static_cast<std::size_t>(length));
  if (pixels != nullptr) {
    const auto count = static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4;
    file.pixels = {width, height, scale, std::vector<std::uint8_t>(pixels, pixels + count)};
  }
  intake().files.push_back(std::move(file));
  platform::request_frames(3);
}

EMSCRIPTEN_KEEPALIVE void fw_files_hover(int hover) {
  if (intake().hover == (hover != 0)) return;
  intake().hover = hover != 0;
  platform::request_frames(2);
}

}  // extern "C"

namespace platform {

void open_file_dialog(const std::string& accept) { host_open_files(accept.c_str()); }

std::vector<DroppedFile> take_dropped_files() { return std::exchange(intake().files, {}); }

bool files_hover() { return intake().hover; }

void save_file(const std::string& name, const std::string& mime, const std::string& bytes) {
  host_save_file(name.c_str(), mime.c_str(), bytes.data(), static_cast<int>(bytes.size()));
}

void print_pages(const std::vector<std::string>& svg_pages) {
  for (const std::string& svg : svg_pages) host_add_print_page(svg.c_str());
  host_print();
}

}  // namespace platform
