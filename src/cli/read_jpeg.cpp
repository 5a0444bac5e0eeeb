// JPEG by the distribution's library, row by row into a reduced picture.
#include <cstdio>
#include <optional>
#include <utility>

#include "cli/photo_file.h"

#ifdef FW_JPEG
#include <jpeglib.h>

#include <csetjmp>
#include <vector>

#include "photo/exif.h"
#endif

namespace cli {

#ifdef FW_JPEG
namespace {

/// The library's errors come back by a jump; nothing with a destructor may live where it starts.
struct JpegErrors {
  jpeg_error_mgr library;
  std::jmp_buf back;
  char text[JMSG_LENGTH_MAX];
};

[[noreturn]] void jump_back(j_common_ptr decoder) {
  auto* errors = reinterpret_cast<JpegErrors*>(decoder->err);
  errors->library.format_message(decoder, errors->text);
  std::longjmp(errors->back, 1);
}

/// Everything outlives the jumps, because the caller owns it.
struct JpegWork {
  jpeg_decompress_struct decoder;
  JpegErrors errors;
  std::vector<unsigned char> row;
  std::optional<photo::Reducer> reducer;
  base::Problems problems;
  int orientation = 1;
};

/// Reads the heading; false when the library has jumped.
bool read_heading(JpegWork& work, std::string_view bytes) {
  jpeg_decompress_struct& decoder = work.decoder;
  if (setjmp(work.errors.back) != 0) return false;
  jpeg_create_decompress(&decoder);
  jpeg_mem_src(&decoder, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  jpeg_save_markers(&decoder, JPEG_APP0 + 1, 0xFFFF);
  jpeg_read_header(&decoder, TRUE);
  return true;
}

void prepare(JpegWork& work, const std::string& name) {
  jpeg_decompress_struct& decoder = work.decoder;
  for (const jpeg_marker_struct* mark = decoder.marker_list; mark != nullptr; mark = mark->next) {
    const int held =
        photo::exif_orientation({reinterpret_cast<const char*>(mark->data), mark->data_length});
    if (held != 1) work.orientation = held;
  }
  const bool is_grey = decoder.num_components == 1;
  decoder.out_color_space = is_grey ? JCS_GRAYSCALE : JCS_RGB;
  const int channels = is_grey ? 1 : 3;
  auto start =
      photo::Reducer::start(static_cast<std::int64_t>(decoder.image_width),
                            static_cast<std::int64_t>(decoder.image_height), channels, name);
  if (!start) {
    work.problems = start.problems();
    return;
  }
  work.reducer = std::move(start).value();
  work.row.resize(static_cast<std::size_t>(decoder.image_width) *
                  static_cast<std::size_t>(channels));
}

bool read_rows(JpegWork& work) {
  jpeg_decompress_struct& decoder = work.decoder;
  if (setjmp(work.errors.back) != 0) return false;
  jpeg_start_decompress(&decoder);
  while (decoder.output_scanline < decoder.output_height) {
    JSAMPROW row = work.row.data();
    jpeg_read_scanlines(&decoder, &row, 1);
    work.reducer->add_row(work.row.data());
    // The library fills what is missing with grey and only warns.
    if (work.errors.library.num_warnings > 0) return false;
  }
  return true;
}

}  // namespace

base::Result<photo::Image> read_jpeg(std::string_view bytes, const std::string& name) {
  JpegWork work{};
  work.decoder.err = jpeg_std_error(&work.errors.library);
  work.errors.library.error_exit = jump_back;
  work.errors.library.output_message = [](j_common_ptr) {};
  bool good = read_heading(work, bytes);
  if (good) {
    prepare(work, name);
    good = work.reducer.has_value() && read_rows(work);
  }
  const bool is_short = work.errors.library.num_warnings > 0;
  jpeg_destroy_decompress(&work.decoder);
  if (!work.problems.empty()) return work.problems;
  if (!good) {
    const std::string said = is_short ? "damaged or cut short" : work.errors.text;
    return base::Problem{name, "a JPEG that cannot be read: " + said, "a whole JPEG photo"};
  }
  return photo::upright(std::move(*work.reducer).finish(), work.orientation);
}

#else

base::Result<photo::Image> read_jpeg(std::string_view, const std::string& name) {
  return base::Problem{name, "a JPEG, which this program was built without",
                       "a PGM or PPM file, or a program built with the JPEG library"};
}

#endif

}  // namespace cli
