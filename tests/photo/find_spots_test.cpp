// Rendered photographs to spots: how near, how well split, how honest. What the figures were in the
// alignment design's own rendered test stands beside them.
#include "photo/find_spots.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "base/units.h"
#include "end_to_end.h"
#include "support/figures.h"
#include "support/says.h"

namespace {

using base::Vec2;
using photo_test::errors_of;
using photo_test::measured;
using support::DrawnSpot;
using support::PhotoScene;

/// 430 mm board over 600 pixels, seen a little from the side.
PhotoScene board_of_600() {
  PhotoScene scene;
  scene.camera_m = {0.12, -0.1, 0.62};
  scene.vignette = 0.3;
  scene.gradient_per_m = {0.5, -0.3};
  scene.samples = 2;
  return scene;
}

photo_test::Measured must(const PhotoScene& scene, bool corners_only = false,
                          const photo::SpotSearch& search = {}) {
  auto result = measured(scene, corners_only, search);
  if (!result) FAIL(base::to_text(result.problems()));
  return std::move(result).value();
}

/// The spot nearest to a place.
const photo::Spot& nearest(const photo::FoundSpots& found, const Vec2& place) {
  REQUIRE(!found.spots.empty());
  return *std::min_element(
      found.spots.begin(), found.spots.end(), [&](const auto& a, const auto& b) {
        return glm::distance(a.place_m, place) < glm::distance(b.place_m, place);
      });
}

}  // namespace

TEST_CASE("thirty-six spots of 23 mm, end to end") {
  // The design's rendered test (alignment design 7.3): k1 = 0, four marks: sd 0.15, at most
  // 0.39 mm; k1 = -0.03, four marks: 0.40 and 1.0; eight marks with k1: 0.08 and 0.23. Our
  // marks are found to 0.03 px, so less is left: 0.011 and 0.04; 0.33 and 0.59; 0.012 and 0.03.
  struct Case {
    std::string name;
    double k1;
    bool corners_only;
    double sd_mm;
    double most_mm;
  };
  for (const Case& one : {Case{"flat4", 0.0, true, 0.02, 0.06},
                          {"bent4", -0.03, true, 0.40, 1.0},
                          {"bent8", -0.03, false, 0.015, 0.05}}) {
    CAPTURE(one.name);
    PhotoScene scene = board_of_600();
    scene.k1 = one.k1;
    scene.spots = support::ring_spots(0.048, 0.006, 5);
    const auto result = must(scene, one.corners_only);
    CHECK(result.found.spots.size() == 36);
    const auto errors = errors_of(scene, result.found);
    CHECK(errors.matched == 36);
    CHECK(base::mm_from_m(errors.sd_m) < one.sd_mm);
    CHECK(base::mm_from_m(errors.most_m) < one.most_mm);
    MESSAGE(one.name << ": sd " << base::mm_from_m(errors.sd_m) << " mm, most "
                     << base::mm_from_m(errors.most_m) << " mm, chi2 " << errors.mean_chi2);
    CHECK(errors.mean_chi2 < 1.5);  // what is claimed is not too small
    for (const auto& spot : result.found.spots) {
      CHECK(!(spot.merged || spot.saturated || spot.cut || spot.on_mark || spot.rough_size));
      CHECK(base::mm_from_m(spot.longer_m) == doctest::Approx(23.2).epsilon(0.03));
      CHECK(spot.shorter_m > 0.95 * spot.longer_m);
      CHECK(spot.flux_share == doctest::Approx(1.0 / 36.0).epsilon(0.05));
    }
    support::record_figure("photo/end_to_end_sd_" + one.name, errors.sd_m);
    support::record_figure("photo/end_to_end_most_" + one.name, errors.most_m);
  }
}

TEST_CASE("a photo of the covered dish takes the place of a guessed background") {
  PhotoScene scene = board_of_600();
  scene.clutter = true;  // dark things printed on the board are in both
  PhotoScene covered = scene;
  covered.camera_m = {0.05, -0.02, 0.66};  // another place, another exposure
  covered.exposure = 0.8;
  covered.seed = 9;
  scene.spots = {{{0.05, 0.04}, 0.023}, {{-0.06, 0.02}, 0.023}, {{0.0, -0.09}, 0.023}};
  const photo::Image photo_image = support::photographed(scene);
  const photo::Image covered_image = support::photographed(covered);
  const auto view_for = [&](const photo::Image& image) {
    const auto marks = photo::find_marks(image, scene.board, "photo");
    REQUIRE(marks.ok());
    const auto view = photo::rectify(marks.value().marks, scene.board, image.size_px(), "photo");
    REQUIRE(view.ok());
    return view.value();
  };
  const auto view = view_for(photo_image);
  const auto covered_view = view_for(covered_image);
  const double pitch_m = photo::good_pitch_m(photo_image, view, scene.board);
  std::vector<std::string> notes;
  const auto difference = photo::less_reference(
      photo::view_of_board(photo_image, view, scene.board, pitch_m),
      photo::view_of_board(covered_image, covered_view, scene.board, pitch_m), notes);
  REQUIRE(notes.size() == 1);
  CHECK(support::says(notes[0], "the reference is 0.8"));
  const auto found = photo::find_spots(difference, scene.board, view, {});
  CHECK(found.spots.size() == 3);
  // Ink under a spot still takes light away; these three are placed beside it or hardly touched.
  CHECK(errors_of(scene, found).matched == 3);
}

TEST_CASE("two spots that touch are told apart, with the design's bias or less") {
  // Alignment design 7.1: separable down to 0.5 to 0.6 diameters; bias 1.4 / 0.5 / 0.2 / < 0.1 mm
  // at 0.5 / 0.7 / 0.8 / >= 0.9 of a 23 mm spot. Ours: 0.36 at 0.6, 0.09 at 0.7, below 0.05 from
  // 0.8 on; 0.5 is not held here.
  const double separations[] = {0.6, 0.7, 0.8, 0.9, 1.0};
  const double most_mm[] = {0.5, 0.15, 0.08, 0.08, 0.08};
  for (std::size_t k = 0; k < 5; ++k) {
    CAPTURE(separations[k]);
    PhotoScene scene = board_of_600();
    const double apart_m = separations[k] * 0.023;
    // Eight pairs at different angles and places.
    std::vector<std::pair<Vec2, Vec2>> pairs;
    for (int j = 0; j < 8; ++j) {
      const Vec2 middle{0.1 * (j % 3 - 1), 0.09 * (j / 3 - 1)};
      const double angle = 0.37 * j;
      const Vec2 half = 0.5 * apart_m * Vec2{std::cos(angle), std::sin(angle)};
      pairs.emplace_back(middle - half, middle + half);
      scene.spots.push_back({.place_m = middle - half});
      scene.spots.push_back({.place_m = middle + half});
    }
    const auto result = must(scene, false, {.spot_m = 0.023});
    CHECK(result.found.spots.size() == 16);
    double bias_mm = 0.0;
    double off_mm = 0.0;
    for (const auto& pair : pairs) {
      const auto& a = nearest(result.found, pair.first);
      const auto& b = nearest(result.found, pair.second);
      bias_mm += base::mm_from_m(glm::distance(a.place_m, b.place_m) - apart_m) / 16.0;
      off_mm += base::mm_from_m(glm::distance(a.place_m, pair.first)) / 8.0;
      if (separations[k] < 0.95) CHECK(a.merged);
      CHECK(glm::distance(a.place_m, pair.first) < 4.0 * a.sigma_m);
    }
    MESSAGE("at " << separations[k] << " diameters: bias " << bias_mm << " mm, off " << off_mm);
    CHECK(std::abs(bias_mm) < most_mm[k]);
    support::record_figure("photo/split_bias_" + std::to_string(separations[k]), bias_mm);
  }
}

TEST_CASE("three times overexposed spots keep their middles") {
  // Alignment design 7.2: bias 0.06, sd 0.15 mm with three times overexposure.
  PhotoScene scene = board_of_600();
  scene.spots = support::ring_spots(0.048, 0.006, 5, {.level = 3.0, .edge_m = 0.006});
  const auto result = must(scene);
  const auto errors = errors_of(scene, result.found);
  CHECK(errors.matched == 36);
  CHECK(result.found.spots.size() == 36);
  // Ours: sd 0.027 mm with uneven light beneath.
  CHECK(base::mm_from_m(errors.sd_m) < 0.04);
  MESSAGE("overexposed: sd " << base::mm_from_m(errors.sd_m) << " mm");
  for (const auto& spot : result.found.spots) CHECK(spot.saturated);
  support::record_figure("photo/overexposed_sd", errors.sd_m);
  bool told = false;
  for (const auto& note : result.found.notes) {
    told = told || note.find("36 spots at full scale") != std::string::npos;
  }
  CHECK(told);
}

TEST_CASE("what makes a spot doubtful is said, and widens what is claimed") {
  PhotoScene scene = board_of_600();
  const auto marks = photo::marks_of(scene.board);
  scene.spots = {{.place_m = {0.0, 0.0}},
                 {.place_m = {0.06, 0.05}},
                 {.place_m = {-0.06, 0.05}},
                 {.place_m = {0.212, 0.09}},                        // over the right edge
                 {.place_m = marks[5].place_m + Vec2{0.012, 0.0}},  // on the lowest mark
                 {.place_m = {-0.05, -0.08}, .stretch = 1.6, .turn_rad = 0.5}};
  const auto result = must(scene, false, {.spot_m = 0.023});
  CHECK(result.found.spots.size() >= 6);
  CHECK(nearest(result.found, {0.2, 0.09}).cut);
  CHECK(nearest(result.found, scene.spots[4].place_m).on_mark);
  const photo::Spot& stretched = nearest(result.found, scene.spots[5].place_m);
  CHECK(!stretched.merged);
  // A uniform ellipse: its axes are its widths; the soft rim adds a little.
  CHECK(stretched.longer_m / stretched.shorter_m == doctest::Approx(1.6).epsilon(0.03));
  CHECK(std::abs(base::cross(stretched.longer_axis, {std::cos(0.5), std::sin(0.5)})) < 0.03);
  const photo::Spot& plain = nearest(result.found, {0.0, 0.0});
  CHECK(plain.sigma_m < 1e-4);
  CHECK(nearest(result.found, {0.2, 0.09}).sigma_m > 1e-3);
}

TEST_CASE("one small spot on a large board, and none at all") {
  PhotoScene scene = board_of_600();
  scene.spots = {{.place_m = {0.03, -0.07}, .diameter_m = 0.01, .is_gaussian = true}};
  const auto one = must(scene);
  REQUIRE(one.found.spots.size() == 1);
  CHECK(glm::distance(one.found.spots[0].place_m, {0.03, -0.07}) < 1e-4);
  CHECK(base::mm_from_m(one.found.spots[0].longer_m) == doctest::Approx(10.1).epsilon(0.05));
  scene.spots.clear();
  const auto none = must(scene);
  CHECK(none.found.spots.empty());
  REQUIRE(!none.found.notes.empty());
  CHECK(support::says(none.found.notes[0], "no spot stands out of the noise"));
}

TEST_CASE("presence in a covered and uncovered pair") {
  PhotoScene scene = board_of_600();
  scene.spots = {{.place_m = {0.05, 0.05}}, {.place_m = {-0.05, 0.0}, .level = 0.1}};
  const photo::Image image = support::photographed(scene);
  const auto result = must(scene);
  const auto seen = photo::less_background(photo::view_of_board(
      image, result.view, scene.board, photo::good_pitch_m(image, result.view, scene.board)));
  const double usual = nearest(result.found, {0.05, 0.05}).flux;
  const auto there = photo::presence_at(seen, {0.05, 0.05}, 0.023, usual);
  CHECK(there.score == doctest::Approx(1.0).epsilon(0.05));
  CHECK(there.verdict == photo::Presence::present);
  const auto half = photo::presence_at(seen, {-0.05, 0.0}, 0.023, usual);
  CHECK(half.score == doctest::Approx(0.37).epsilon(0.1));
  CHECK(half.verdict == photo::Presence::unclear);
  CHECK(photo::presence_at(seen, {0.0, -0.1}, 0.023, usual).verdict == photo::Presence::absent);
}
