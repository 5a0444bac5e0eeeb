// A 12 megapixel photo to spots, step by step. Processor time, best of five.
#include <algorithm>
#include <cstdio>

#include "bench/clock.h"
#include "photo/find_spots.h"
#include "support/photo_scene.h"

namespace {

template <class Work>
double best_ms(const Work& work) {
  double best = 1e300;
  for (int k = 0; k < 5; ++k) best = std::min(best, 1e3 * bench::seconds_of(work));
  return best;
}

}  // namespace

int main() {
  support::PhotoScene scene;
  scene.width = 4000;
  scene.height = 3000;
  scene.focal_px = 2880.0;
  scene.camera_m = {0.12, -0.1, 0.62};
  scene.samples = 1;
  scene.clutter = true;
  scene.spots = support::ring_spots(0.048, 0.006, 5);
  const auto grey = support::render(scene);
  std::string bytes;
  bytes.reserve(4 * grey.size());
  for (const auto value : grey) bytes.append(3, static_cast<char>(value)).push_back('\xff');

  photo::Image image;
  const double decode = best_ms(
      [&] { image = photo::image_of_bytes(scene.width, scene.height, 4, bytes, "bench").value(); });
  photo::SeenMarks marks;
  const double find =
      best_ms([&] { marks = photo::find_marks(image, scene.board, "bench").value(); });
  photo::Rectification view;
  const double fit = best_ms(
      [&] { view = photo::rectify(marks.marks, scene.board, image.size_px(), "bench").value(); });
  photo::BoardView seen;
  const double resample = best_ms([&] {
    seen = photo::view_of_board(image, view, scene.board,
                                photo::good_pitch_m(image, view, scene.board));
  });
  photo::BoardView difference;
  const double background = best_ms([&] { difference = photo::less_background(seen); });
  photo::FoundSpots found;
  const double spots =
      best_ms([&] { found = photo::find_spots(difference, scene.board, view, {}); });
  std::printf("RGBA to light, reduced %d: %.0f ms\nmarks %.0f ms (%zu)\nview %.1f ms\n",
              image.reduction, decode, find, marks.marks.size(), fit);
  std::printf("board of %d x %d %.0f ms\nbackground %.0f ms\nspots %.0f ms (%zu)\n", seen.columns,
              seen.rows, resample, background, spots, found.spots.size());
  std::printf("together %.0f ms\n", decode + find + fit + resample + background + spots);
  return 0;
}
