// A rendered photograph of the board on the table: read by the worker's task, its spots named,
// names changed by hand, the sure ones taken as a round that tells the hidden dish's turns.
#include "session/photos.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "naming/schemes.h"
#include "practice/camera.h"
#include "practice/hidden_dish.h"
#include "session/figures.h"
#include "session/sitting.h"
#include "support/photo_scene.h"
#include "tasks/task.h"

namespace {

using session::Session;
namespace act = session::act;

act::OpenPhoto opened(const support::PhotoScene& scene, const std::string& name) {
  const auto grey = support::render(scene);
  auto rgba = std::make_shared<std::string>();
  rgba->reserve(4 * grey.size());
  for (const std::uint8_t value : grey) {
    for (int channel = 0; channel < 3; ++channel) rgba->push_back(static_cast<char>(value));
    rgba->push_back('\xff');
  }
  return {name, scene.width, scene.height, rgba};
}

/// A camera that sees the whole board a little from the side.
support::PhotoScene scene_of(const photo::Board& board) {
  support::PhotoScene scene;
  scene.board = board;
  const double far = 1.5 * std::max(board.width_m, board.height_m);
  scene.camera_m = {0.25 * far, -0.1 * far, far};
  return scene;
}

/// What stands on the hidden dish: each facet tilted by some mrad, seen on the page's board.
struct HiddenDish {
  practice::DishSetup practice;
  practice::Hidden hidden;
};

HiddenDish hide(const dish::Dish& dish, double tilt_rad) {
  HiddenDish made{practice::set_up(dish).value(), {}};
  practice::Draws draws(5, 0, 0);
  made.hidden = practice::hide(made.practice, {.tilt_rad = tilt_rad, .gain = 0.0}, draws);
  return made;
}

support::PhotoScene photograph(const Session& session, const HiddenDish& dish) {
  const auto& work = session.photo_work;
  support::PhotoScene scene = scene_of(work.board);
  const auto sighting = naming::defocus_sighting(session.document.dish, work.before_focus_m);
  practice::Draws draws(6, 0, 0);
  const practice::Camera exact{.spot_sigma_m = 1e-6, .missed = 0.0, .false_spots = 0.0};
  for (std::size_t k = 0; k < session.document.dish.facets.size(); ++k) {
    const auto seen =
        practice::observe(dish.practice, dish.hidden, sighting, {k}, exact, 0.023, draws);
    REQUIRE(seen.spots.size() == 1);
    scene.spots.push_back({.place_m = seen.spots.front().board_m, .diameter_m = 0.02});
  }
  return scene;
}

/// A sitting with a photo of a hidden dish, read and named.
Session with_photo(double tilt_rad) {
  Session session = sitting::at_nominal();
  // The first photo suggests the board; it is put away again.
  session::apply(session, {opened(scene_of({}), "first"), act::DropPhoto{0}});
  const HiddenDish hidden = hide(session.document.dish, tilt_rad);
  session::apply(session, {opened(photograph(session, hidden), "board"), act::ReadPhotos{}});
  sitting::answer(session);
  return session;
}

}  // namespace

TEST_CASE("one photo names every facet's spot, and the round from it finds the tilts") {
  Session session = with_photo(0.002);
  const std::size_t facets = session.document.dish.facets.size();
  const auto spots = session::spots_of_photo(session, 0);
  CHECK(spots.size() == facets);
  for (const session::NamedSpot& named : spots) {
    CHECK(named.facet.has_value());
    CHECK(named.doubt == naming::Doubt::none);
  }
  CHECK(session::missing_in_photo(session, 0).empty());
  REQUIRE(session::can_take_photos(session));
  session::apply(session, {act::TakePhotoSpots{}});
  CHECK_FALSE(session.photo_work.shown);
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  CHECK(round->spots.size() == facets);
  REQUIRE(round->board);
  CHECK(round->board->centre_m.z < session.document.dish.focal_length_m);
  // Each facet's tilt as hidden, to the reading of the spot: 0.3 mm at 1.6 m is 0.1 mrad.
  const HiddenDish hidden = hide(session.document.dish, 0.002);
  const auto left = practice::tilts_left(hidden.practice, hidden.hidden);
  REQUIRE(session.plan.value);
  REQUIRE(session.plan.value->facets.size() == facets);
  for (std::size_t k = 0; k < facets; ++k) {
    const double told = glm::length(session.plan.value->facets[k].tilt_error_rad);
    CHECK(std::abs(told - left[k]) < 2.5e-4);
  }
}

TEST_CASE("a name given by hand leaves its former spot, and the dish's undo knows nothing of it") {
  Session session = with_photo(0.002);
  const auto before = session::spots_of_photo(session, 0);
  const std::string bytes = sitting::bytes_of(session);
  session::apply(session, {act::NameSpot{0, 4, before[0].facet}});
  const auto after = session::spots_of_photo(session, 0);
  CHECK(after[4].facet == before[0].facet);
  CHECK(after[4].is_by_hand);
  CHECK_FALSE(after[0].facet.has_value());
  CHECK(session::missing_in_photo(session, 0).size() == 1);
  CHECK(sitting::bytes_of(session) == bytes);
  session::apply(session, {act::NameSpot{0, 4, {}}});
  CHECK_FALSE(session::spots_of_photo(session, 0)[4].facet.has_value());
}

TEST_CASE("a photo without marks is answered in words, and pointing at four marks helps") {
  Session session = sitting::at_nominal();
  session::apply(session, {opened(scene_of({}), "first"), act::DropPhoto{0}});
  const HiddenDish hidden = hide(session.document.dish, 0.001);
  support::PhotoScene scene = photograph(session, hidden);
  scene.has_marks = false;
  session::apply(session, {opened(scene, "bare"), act::ReadPhotos{}});
  sitting::answer(session);
  CHECK(session::spots_of_photo(session, 0).empty());
  CHECK_FALSE(session::can_take_photos(session));
  const auto marks = photo::marks_of(session.photo_work.board);
  for (const std::size_t mark : {0UL, 2UL, 4UL, 6UL}) {
    session::apply(session,
                   {act::PointAtMark{0, mark, support::seen_at(scene, marks[mark].place_m)}});
  }
  session::apply(session, {act::ReadPhotos{}});
  sitting::answer(session);
  CHECK(session::spots_of_photo(session, 0).size() == session.document.dish.facets.size());
}

TEST_CASE("another dish, another board or a photo put away never leaves a stale name") {
  Session session = with_photo(0.001);
  session::apply(session, {act::OpenDemo{"Kiln Yard"}});
  for (const session::NamedSpot& named : session::spots_of_photo(session, 0)) {
    if (named.facet)
      CHECK(dish::find_facet(session.document.dish, *named.facet) != dish::k_no_facet);
  }
  session::apply(session, {act::SetPhotoSettings{.board_width_m = 0.9, .board_height_m = 0.7}});
  CHECK(session::spots_of_photo(session, 0).empty());
  session::apply(session, {act::SetPhotoSettings{.board_width_m = 0.01, .board_height_m = 0.7}});
  CHECK(session.photo_work.board.width_m == 0.9);
  session::apply(session, {act::DropPhoto{0}});
  CHECK_FALSE(session.photo_work.shown);
  session::apply(session, {act::DropPhoto{7}, act::ChoosePhoto{3}, act::NameSpot{0, 0, {}},
                           act::ReadPhotos{}, act::TakePhotoSpots{}});
  CHECK(session.photo_work.photos.empty());
}
