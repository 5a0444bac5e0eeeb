// Any bytes as a photo file, as a request with pixels behind it, and as a small picture that is
// searched for marks and spots: never a crash, never a number that is none.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "base/check.h"
#include "photo/exif.h"
#include "photo/find_marks.h"
#include "photo/find_spots.h"
#include "photo/pnm.h"
#include "tasks/task.h"

namespace {

void speak(const base::Problems& problems) {
  for (const base::Problem& problem : problems) {
    CHECK(!base::to_line(problem).empty(), "a problem says something");
  }
}

void check_spots(const photo::Image& image, const photo::Board& board,
                 const photo::Rectification& view) {
  const auto seen =
      photo::view_of_board(image, view, board, photo::good_pitch_m(image, view, board));
  const auto found = photo::find_spots(photo::less_background(seen), board, view, {});
  for (const photo::Spot& spot : found.spots) {
    const double numbers[] = {spot.place_m.x,     spot.place_m.y, spot.sigma_m,
                              spot.longer_m,      spot.shorter_m, spot.longer_axis.x,
                              spot.longer_axis.y, spot.flux,      spot.flux_share};
    CHECK(std::all_of(std::begin(numbers), std::end(numbers),
                      [](double number) { return std::isfinite(number); }),
          "a spot's numbers are numbers");
    CHECK(spot.longer_m >= spot.shorter_m && spot.sigma_m > 0.0, "sizes are in order");
  }
}

/// The bytes, over and over, as a picture; four places of its own as the marks.
void look_at(std::string_view bytes) {
  if (bytes.empty()) return;
  const auto number = [bytes](std::size_t k) {
    return static_cast<std::uint8_t>(bytes[k % bytes.size()]);
  };
  const long width = 100 + number(0);
  const long height = 100 + number(1) / 2;
  std::string pixels(static_cast<std::size_t>(width * height), '\0');
  // Blocks rather than dust, so that there are figures in it.
  const std::size_t block = 1 + number(2) % 12;
  for (std::size_t k = 0; k < pixels.size(); ++k) {
    const std::size_t x = k % static_cast<std::size_t>(width) / block;
    const std::size_t y = k / static_cast<std::size_t>(width) / block;
    pixels[k] = static_cast<char>(number(3 + x + 37 * y));
  }
  const auto image = photo::image_of_bytes(width, height, 1, pixels, "fuzz");
  CHECK(image.ok(), "a picture of this size is taken");
  const photo::Board board{0.43, 0.3, 0.02};
  if (const auto marks = photo::find_marks(image.value(), board, "fuzz"); !marks) {
    speak(marks.problems());
  }
  std::vector<photo::ClickedMark> clicks;
  for (std::size_t k = 0; k < 4; ++k) {
    clicks.push_back({2 * k,
                      {number(2 * k) / 255.0 * static_cast<double>(width),
                       number(2 * k + 1) / 255.0 * static_cast<double>(height)}});
  }
  // Sometimes where they may be.
  if (number(4) % 2 == 0) {
    clicks[0].image_px = {20.0, 15.0};
    clicks[1].image_px = {90.0, 12.0 + number(5) % 20};
    clicks[2].image_px = {85.0, 80.0};
    clicks[3].image_px = {10.0 + number(6) % 20, 90.0};
  }
  const auto marks = photo::find_marks(image.value(), board, "fuzz", clicks);
  if (!marks) return speak(marks.problems());
  const auto view = photo::rectify(marks.value().marks, board, image.value().size_px(), "fuzz");
  if (!view) return speak(view.problems());
  check_spots(image.value(), board, view.value());
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(bytes), size);
  for (const char* head : {"", "P5 100 100 255 ", "P6 "}) {
    const auto image = photo::read_pnm(std::string(head) + std::string(text), "fuzz");
    if (!image) speak(image.problems());
  }
  const int held = photo::exif_orientation(std::string("Exif\0\0", 6) + std::string(text));
  CHECK(held >= 1 && held <= 8, "there are eight ways to hold a camera");
  std::string request =
      R"({"task":"spots","board":{"width_mm":430,"height_mm":430},"photos":[{"width_px":100,)"
      R"("height_px":100,"channels":1,"bytes":10000}]})";
  request.push_back('\0');
  request += text;
  CHECK(!tasks::run_to_text(request).empty(), "every request is answered");
  request.resize(request.size() - text.size());
  request += std::string(10000, size > 0 ? static_cast<char>(bytes[0]) : 'x');
  CHECK(!tasks::run_to_text(request).empty(), "every request is answered");
  CHECK(!tasks::run_to_text(text).empty(), "every request is answered");
  look_at(text);
  return 0;
}
