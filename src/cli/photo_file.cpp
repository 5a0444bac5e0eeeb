// Tells kinds of photo files apart.
#include "cli/photo_file.h"

#include "photo/pnm.h"

namespace cli {

base::Result<photo::Image> read_photo_file(const Console& console, const std::string& path) {
  const auto read = read_input(console, path, k_photo_file_cap_bytes);
  if (!read) return read.problems();
  const std::string_view bytes = read.value();
  const std::string name = path == "-" ? "standard input" : path;
  const auto starts = [bytes](std::string_view head) {
    return bytes.substr(0, head.size()) == head;
  };
  if (starts("\xff\xd8\xff")) return read_jpeg(bytes, name);
  if (starts("\x89PNG\r\n\x1a\n")) return read_png(bytes, name);
  if (photo::looks_like_pnm(bytes)) return photo::read_pnm(bytes, name);
  const bool is_heif = bytes.size() > 12 && bytes.substr(4, 4) == "ftyp";
  return base::Problem{name,
                       bytes.empty() ? "an empty file"
                       : is_heif     ? "a HEIF or AVIF photo, or a film"
                                     : "no photo of a kind that is known",
                       "a JPEG, PNG, PGM or PPM file"};
}

}  // namespace cli
