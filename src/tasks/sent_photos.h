// Photographs in a request: what they are stands in its JSON, their pixels behind it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "photo/image.h"
#include "tasks/settings.h"

namespace tasks {

/// A photo's pixels as the browser decoded them, rows from the top, four bytes each.
struct RgbaPixels {
  std::string name;
  int width_px = 0;
  int height_px = 0;
  std::string_view rgba;
};

/// The entry of a photo in the list "photos".
Json entry_of(const RgbaPixels& photo);

/// The request's text, a zero byte, and all pixels in their order.
std::string with_pixels(const Json& request, const std::vector<RgbaPixels>& photos);

struct SentPhoto {
  std::string name;
  photo::Image image;
};

/// A key's list of at most so many entries; nullptr, with a problem, for anything else.
const Json* list_of(Settings& settings, const char* key, std::size_t most);

/// "photos" [{name, width_px, height_px, channels, bytes}], each one's bytes taken from `pixels` in
/// turn. What is wrong is kept in the settings: no list, entries that are incomplete, too few or
/// too many bytes, what photo::image_of_bytes refuses.
std::vector<SentPhoto> read_photos(Settings& settings, std::string_view pixels, std::size_t most);

}  // namespace tasks
