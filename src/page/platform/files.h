// Files in and out by the person's hand: a chooser, drag and drop, a download.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace platform {

/// A picture that came with a file, decoded upright and no larger than 4096 pixels a side.
struct Pixels {
  int width = 0;
  int height = 0;
  double scale = 1.0;  ///< pixels of this picture for one pixel of the file
  std::vector<std::uint8_t>
      rgba;  ///< rows from the top, 4 bytes a pixel; empty when the file is no picture
};

struct DroppedFile {
  std::string name;
  std::string bytes;
  Pixels pixels;
  std::string trouble;  ///< why the file could not be read at all; empty otherwise
};

/// Lets the person choose files. `accept` lists endings and types, e.g. ".dish.json,.csv,image/*".
/// What is chosen comes through take_dropped_files() later, or never. In a browser it works only as
/// the answer to a key or click.
void open_file_dialog(const std::string& accept);

/// Files chosen or dropped since the last call, oldest first. Their arrival asks for frames.
[[nodiscard]] std::vector<DroppedFile> take_dropped_files();

/// True while files are dragged over the page.
[[nodiscard]] bool files_hover();

/// Gives the person a file to keep.
void save_file(const std::string& name, const std::string& mime, const std::string& bytes);

/// Prints pages, each a whole SVG document text, one a sheet of A4.
void print_pages(const std::vector<std::string>& svg_pages);

}  // namespace platform
