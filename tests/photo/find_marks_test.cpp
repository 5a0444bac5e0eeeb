// Marks are found however the board is seen, and what cannot be used is answered in words.
#include "photo/find_marks.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "base/units.h"
#include "end_to_end.h"
#include "support/says.h"

namespace {

using base::Vec2;
using support::PhotoScene;
using support::says;

PhotoScene small_scene() {
  PhotoScene scene;
  scene.width = 800;
  scene.height = 640;
  scene.focal_px = 640.0;
  scene.camera_m = {0.05, -0.06, 0.72};
  scene.samples = 2;
  return scene;
}

/// All marks that show are found, and the view they give is right to a tenth of a millimetre.
void finds(const PhotoScene& scene, std::size_t count = photo::k_marks, double most_m = 1e-4) {
  const photo::Image image = support::photographed(scene);
  const auto seen = photo::find_marks(image, scene.board, "photo");
  if (!seen) FAIL_CHECK(base::to_text(seen.problems()));
  if (!seen) return;
  CHECK(seen.value().marks.size() == count);
  const auto view =
      photo::rectify(seen.value().marks, scene.board, image.size_px(), "photo", scene.focal_px);
  REQUIRE(view.ok());
  CHECK(view.value().notes.empty());
  for (const Vec2 place : {Vec2{0.0, 0.0}, {0.1, 0.1}, {-0.1, 0.12}, {0.12, -0.1}}) {
    const auto found = photo::to_board(view.value(), support::seen_at(scene, place));
    REQUIRE(found.has_value());
    CHECK(glm::distance(*found, place) < most_m);
  }
}

std::string refusal(const PhotoScene& scene) {
  const auto seen = photo::find_marks(support::photographed(scene), scene.board, "IMG 3");
  return seen ? "none" : base::to_text(seen.problems());
}

}  // namespace

TEST_CASE("marks are found whichever way up the camera was") {
  for (const base::Vec3 up :
       {base::Vec3{0.0, 1.0, 0.0}, {1.0, 0.2, 0.0}, {0.0, -1.0, 0.0}, {-1.0, 1.0, 0.0}}) {
    CAPTURE(up.x);
    CAPTURE(up.y);
    PhotoScene scene = small_scene();
    scene.up = up;
    finds(scene);
  }
}

TEST_CASE("marks are found at forty-five degrees, from each side") {
  for (const base::Vec3 camera :
       {base::Vec3{0.55, 0.0, 0.55}, {0.0, 0.55, 0.55}, {-0.4, -0.4, 0.57}}) {
    CAPTURE(camera.x);
    CAPTURE(camera.y);
    PhotoScene scene = small_scene();
    scene.camera_m = camera;
    finds(scene, photo::k_marks, 2e-4);
  }
}

TEST_CASE("uneven light, a dark yard, spots all over the board, clutter and blur do not matter") {
  PhotoScene scene = small_scene();
  SUBCASE("light that falls by a factor of five across the board") {
    scene.gradient_per_m = {2.2, 1.0};
    scene.vignette = 0.3;
  }
  SUBCASE("a bright surrounding") { scene.behind = 0.5; }
  SUBCASE("a dark surrounding") { scene.behind = 0.001; }
  SUBCASE("a board far darker than its spots") {
    scene.white = 0.012;
    scene.behind = 0.006;
    scene.spots = support::ring_spots(0.045, 0.005, 3);
  }
  SUBCASE("thirty-six spots") { scene.spots = support::ring_spots(0.048, 0.005, 3); }
  SUBCASE("spots at full scale") {
    scene.spots = support::ring_spots(0.045, 0.005, 3, {.level = 3.0});
  }
  SUBCASE("clutter") { scene.clutter = true; }
  SUBCASE("blur") { scene.blur_px = 1.6; }
  SUBCASE("noise") {
    scene.noise = 0.004;
    scene.shot_noise = 0.02;
  }
  SUBCASE("an oblong board") {
    scene.board = {0.5, 0.3, 0.021};
    scene.camera_m = {0.2, 0.1, 0.7};
  }
  finds(scene, photo::k_marks, 2e-4);
}

TEST_CASE("covered marks are done without") {
  PhotoScene scene = small_scene();
  const std::vector<std::vector<bool>> hidden{
      {false, true},                                            // the top
      {true},                                                   // the target
      {false, false, true},                                     // the ring
      {false, true, false, true, false, true, false, true},     // edge middles
      {true, false, false, false, true, false, false, false}};  // two corners
  for (const auto& marks : hidden) {
    CAPTURE(marks.size());
    scene.hidden_marks = marks;
    finds(scene,
          photo::k_marks - static_cast<std::size_t>(std::count(marks.begin(), marks.end(), true)),
          3e-4);
  }
}

TEST_CASE("places pointed at are refined, or stand where nothing is found") {
  PhotoScene scene = small_scene();
  scene.hidden_marks = {false, false, false, false, true};
  const photo::Image image = support::photographed(scene);
  const auto marks = photo::marks_of(scene.board);
  std::vector<photo::ClickedMark> clicks;
  for (const std::size_t k : {0u, 2u, 4u, 6u}) {
    clicks.push_back({k, support::seen_at(scene, marks[k].place_m) + Vec2{4.0, -5.0}});
  }
  const auto seen = photo::find_marks(image, scene.board, "photo", clicks);
  REQUIRE(seen.ok());
  REQUIRE(seen.value().marks.size() == 4);
  for (const auto& mark : seen.value().marks) {
    const double off =
        glm::distance(mark.image_px, support::seen_at(scene, marks[mark.mark].place_m));
    if (mark.mark == 4) {
      CHECK(off == doctest::Approx(std::sqrt(41.0)));
      CHECK(mark.sigma_px == 2.0);
    } else {
      CHECK(off < 0.15);
    }
  }
  REQUIRE(seen.value().notes.size() == 1);
  CHECK(says(seen.value().notes.front(), "bottom right is taken where it was pointed at"));

  const auto problem = [&](const std::vector<photo::ClickedMark>& list) {
    const auto result = photo::find_marks(image, scene.board, "photo", list);
    return result ? "none" : base::to_text(result.problems());
  };
  CHECK(says(problem({clicks[0]}), "at least four, or none"));
  CHECK(says(problem({clicks[0], clicks[0], clicks[1], clicks[2]}), "pointed at twice"));
  CHECK(says(problem({clicks[0], clicks[1], clicks[2], {3, {900.0, 1.0}}}), "inside the photo"));
}

TEST_CASE("photos that are no use are answered in words") {
  PhotoScene scene = small_scene();
  SUBCASE("mirrored") {
    scene.mirrored = true;
    CHECK(says(refusal(scene), "IMG 3: mirrored"));
  }
  SUBCASE("overexposed") {
    scene.exposure = 600.0;
    CHECK(says(refusal(scene), "overexposed"));
  }
  SUBCASE("too dark") {
    scene.exposure = 0.01;
    CHECK(says(refusal(scene), "too dark"));
  }
  SUBCASE("blurred") {
    scene.blur_px = 12.0;
    CHECK(says(refusal(scene), "blurred"));
  }
  SUBCASE("a board without marks") {
    scene.has_marks = false;
    CHECK(says(refusal(scene), "no mark of the board"));
  }
  SUBCASE("too few marks") {
    scene.hidden_marks = {false, true, false, true, true, true, true, true};
    CHECK(says(refusal(scene), "at least four of the eight marks"));
  }
  SUBCASE("a photo of something else") {
    scene.has_marks = false;
    scene.clutter = true;
    const std::string text = refusal(scene);
    CHECK((says(text, "no mark of the board") || says(text, "not as they stand on the board")));
  }
}
