// PNG by the distribution's library.
#include "cli/photo_file.h"

#ifdef FW_PNG
#include <png.h>

#include <vector>
#endif

namespace cli {

#ifdef FW_PNG

base::Result<photo::Image> read_png(std::string_view bytes, const std::string& name) {
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  const auto problem = [&image, &name] {
    const std::string said = image.message;
    png_image_free(&image);
    return base::Problem{name, "a PNG that cannot be read: " + said, "a whole PNG picture"};
  };
  if (png_image_begin_read_from_memory(&image, bytes.data(), bytes.size()) == 0) return problem();
  const bool is_grey = (image.format & PNG_FORMAT_FLAG_COLOR) == 0;
  const int channels = is_grey ? 1 : 3;
  image.format = is_grey ? PNG_FORMAT_GRAY : PNG_FORMAT_RGB;
  const std::int64_t width = static_cast<std::int64_t>(image.width);
  const std::int64_t height = static_cast<std::int64_t>(image.height);
  const auto start = photo::Reducer::start(width, height, channels, name);
  if (!start) {
    png_image_free(&image);
    return start.problems();
  }
  std::vector<char> pixels(PNG_IMAGE_SIZE(image));
  // What is transparent is taken as lying on black.
  const png_color black{0, 0, 0};
  if (png_image_finish_read(&image, &black, pixels.data(), 0, nullptr) == 0) return problem();
  return photo::image_of_bytes(width, height, channels, {pixels.data(), pixels.size()}, name);
}

#else

base::Result<photo::Image> read_png(std::string_view, const std::string& name) {
  return base::Problem{name, "a PNG, which this program was built without",
                       "a PGM or PPM file, or a program built with the PNG library"};
}

#endif

}  // namespace cli
