// Entries and bytes of photographs, put together and taken apart.
#include "tasks/sent_photos.h"

#include <fmt/format.h>

#include <utility>

namespace tasks {
namespace {

/// One photo, whose bytes are taken from the front of `pixels`.
void read_sent_photo(const Json& given, const std::string& place, Settings& settings,
                     std::string_view& pixels, std::vector<SentPhoto>& photos) {
  constexpr std::uint64_t k_most = std::uint64_t{1} << 40U;
  Settings entry(given, place);
  const std::string name = entry.text("name").value_or(fmt::format("photo {}", photos.size() + 1));
  const auto width = entry.whole("width_px", 0, k_most);
  const auto height = entry.whole("height_px", 0, k_most);
  const auto channels = entry.whole("channels", 1, 4);
  const auto bytes = entry.whole("bytes", 0, k_most);
  if (entry.problems().empty() && (!width || !height || !channels || !bytes)) {
    entry.add(base::Problem{place, "incomplete", "width_px, height_px, channels and bytes"});
  }
  if (entry.problems().empty() && *bytes > pixels.size()) {
    entry.add(base::Problem{
        place + ".bytes", fmt::format("{}", *bytes),
        fmt::format("at most the {} that follow the request's zero byte", pixels.size())});
  }
  settings.add(entry.finish());
  if (!entry.problems().empty()) return;
  auto image =
      photo::image_of_bytes(static_cast<std::int64_t>(*width), static_cast<std::int64_t>(*height),
                            static_cast<int>(*channels), pixels.substr(0, *bytes), name);
  pixels.remove_prefix(*bytes);
  if (!image) return settings.add(image.problems());
  photos.push_back({name, std::move(image).value()});
}

}  // namespace

Json entry_of(const RgbaPixels& photo) {
  return Json{{"name", photo.name},
              {"width_px", photo.width_px},
              {"height_px", photo.height_px},
              {"channels", 4},
              {"bytes", photo.rgba.size()}};
}

std::string with_pixels(const Json& request, const std::vector<RgbaPixels>& photos) {
  std::string message = to_dense_text(request);
  std::size_t bytes = message.size() + 1;
  for (const RgbaPixels& one : photos) bytes += one.rgba.size();
  message.reserve(bytes);
  message += '\0';
  for (const RgbaPixels& one : photos) message += one.rgba;
  return message;
}

const Json* list_of(Settings& settings, const char* key, std::size_t most) {
  const Json* given = settings.raw(key);
  if (given == nullptr || (given->is_array() && given->size() <= most)) return given;
  settings.add(base::Problem{std::string("request.") + key, "no list, or one too long",
                             fmt::format("a list of at most {}", most)});
  return nullptr;
}

std::vector<SentPhoto> read_photos(Settings& settings, std::string_view pixels, std::size_t most) {
  std::vector<SentPhoto> sent;
  const Json* photos = list_of(settings, "photos", most);
  if (photos == nullptr && settings.problems().empty()) {
    settings.add(base::Problem{"request.photos", "missing", "a list of photos"});
  }
  for (std::size_t k = 0; photos != nullptr && k < photos->size(); ++k) {
    read_sent_photo((*photos)[k], fmt::format("request.photos[{}]", k), settings, pixels, sent);
  }
  if (settings.problems().empty() && !pixels.empty()) {
    settings.add(base::Problem{"request", fmt::format("{} bytes too many", pixels.size()),
                               "as many bytes as the photos have"});
  }
  return sent;
}

}  // namespace tasks
