// A film of the board on the table: an edge crosses the dish twice, and when each spot goes out
// tells whose it is, where one photo alone cannot.
#include "session/crossing.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "naming/schemes.h"
#include "practice/camera.h"
#include "practice/hidden_dish.h"
#include "session/figures.h"
#include "session/photos.h"
#include "session/sitting.h"
#include "support/photo_scene.h"

namespace {

using session::Session;
namespace act = session::act;

constexpr int k_frames = 12;       ///< of each crossing
constexpr double k_hole_m = 0.04;  ///< in each facet's mask

/// Where each facet's spot lies on the board, facets tilted by what only the test knows.
struct FilmedDish {
  std::vector<base::Vec2> spots_m;
  support::PhotoScene scene;
};

FilmedDish filmed(const Session& session, double tilt_rad) {
  const dish::Dish& dish = session.document.dish;
  const auto& work = session.photo_work;
  const auto practice = practice::set_up(dish).value();
  practice::Draws draws(21, 0, 0);
  const auto hidden = practice::hide(practice, {.tilt_rad = tilt_rad, .gain = 0.0}, draws);
  const auto sighting = naming::defocus_sighting(dish, work.before_focus_m);
  const practice::Camera exact{.spot_sigma_m = 1e-6, .missed = 0.0, .false_spots = 0.0};
  FilmedDish film;
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const auto seen = practice::observe(practice, hidden, sighting, {k}, exact, 0.02, draws);
    film.spots_m.push_back(seen.spots.front().board_m);
  }
  film.scene.board = work.board;
  film.scene.width = 480;
  film.scene.height = 400;
  film.scene.samples = 2;
  const double far = 1.5 * std::max(work.board.width_m, work.board.height_m);
  film.scene.camera_m = {0.2 * far, -0.1 * far, far};
  film.scene.focal_px = 520.0;
  return film;
}

/// The share of a facet's hole that an edge leaves which has come to `edge_m` along its way.
double share_left(double facet_m, double edge_m) {
  return std::clamp(0.5 + (facet_m - edge_m) / k_hole_m, 0.0, 1.0);
}

act::OpenPhoto frame_of_film(FilmedDish film, const dish::Dish& dish, double way_rad, double edge_m,
                             const std::string& name) {
  const base::Vec2 way{std::cos(way_rad), std::sin(way_rad)};
  for (std::size_t k = 0; k < film.spots_m.size(); ++k) {
    const base::Vec3& centre = dish.facets[k].centre_m;
    const double left = share_left(glm::dot(way, base::Vec2(centre.x, centre.y)), edge_m);
    if (left == 0.0) continue;
    film.scene.spots.push_back(
        {.place_m = film.spots_m[k], .diameter_m = 0.02, .level = 0.27 * left});
  }
  film.scene.seed +=
      static_cast<std::uint32_t>(name.size()) + static_cast<std::uint32_t>(name.back());
  auto rgba = std::make_shared<std::string>();
  for (const std::uint8_t value : support::render(film.scene)) {
    rgba->append(3, static_cast<char>(value));
    rgba->push_back('\xff');
  }
  return {name, film.scene.width, film.scene.height, rgba};
}

/// The edge starts beside the dish, gathers speed, and ends behind it.
double edge_at(int frame) {
  const double u = static_cast<double>(frame + 1) / k_frames;
  return -1.0 + 2.0 * (0.8 * u + 0.2 * u * u);
}

Session with_film(double tilt_rad) {
  Session session = sitting::at_nominal();
  auto pixels = std::make_shared<const std::string>(200 * 200 * 4, '\x40');
  session::apply(session, {act::OpenPhoto{"first", 200, 200, pixels}, act::DropPhoto{0},
                           act::SetPhotoKind{session::PhotoKind::crossing}});
  const FilmedDish film = filmed(session, tilt_rad);
  const dish::Dish& dish = session.document.dish;
  session::Actions wishes{frame_of_film(film, dish, 0.0, -2.0, "frame 1")};
  int number = 2;
  for (const double way : {naming::k_first_sweep_rad, naming::k_second_sweep_rad}) {
    for (int k = 0; k < k_frames; ++k) {
      wishes.push_back(
          frame_of_film(film, dish, way, edge_at(k), "frame " + std::to_string(number++)));
    }
  }
  session::apply(session, wishes);
  return session;
}

}  // namespace

TEST_CASE("two crossings of an edge name the spots of facets that stand far off") {
  Session session = with_film(0.006);
  CHECK(session::missing_for_crossings(session.photo_work).find("second crossing begins") !=
        std::string::npos);
  session::apply(session, {act::ReadPhotos{}});
  CHECK(sitting::says(session, "cannot be read yet"));
  session::apply(session, {act::BeginCrossing{1 + k_frames, 2}});
  CHECK(session::missing_for_crossings(session.photo_work).empty());
  CHECK(session::standing_of_photo(session, 3) == "first crossing, frame 3 of 12");
  session::apply(session, {act::ReadPhotos{}});
  sitting::answer(session);
  REQUIRE(session.photo_work.found);
  const FilmedDish film = filmed(session, 0.006);
  const auto& facets = session.document.dish.facets;
  std::size_t sure = 0;
  std::size_t wrong = 0;
  for (const session::NamedSpot& named : session::spots_of_photo(session, 0)) {
    if (!named.facet || named.doubt != naming::Doubt::none) continue;
    ++sure;
    const std::size_t k = dish::find_facet(session.document.dish, *named.facet);
    wrong += glm::distance(film.spots_m[k], named.spot.place_m) > 0.01 ? 1 : 0;
  }
  // Spots that lie upon each other stay unresolved (design 6.4: 7 to 10 of 36 at 5 to 7 mrad).
  CHECK(wrong == 0);
  CHECK(sure >= facets.size() - 14);
  CHECK(session::spots_of_photo(session, 5).empty());
  CHECK(session::missing_in_photo(session, 5).empty());
  CHECK(session::standing_of_photo(session, k_frames).find(": 0 of") != std::string::npos);
  session::apply(session, {act::TakePhotoSpots{}});
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  CHECK(round->spots.size() == sure);
}

TEST_CASE("frames of another size are refused in words, and a crossing's way is the person's") {
  Session session = with_film(0.001);
  session::apply(session, {act::BeginCrossing{1 + k_frames, 2}, act::ReadPhotos{}});
  sitting::answer(session);
  const auto sure = [&] {
    const auto spots = session::spots_of_photo(session, 0);
    return std::count_if(spots.begin(), spots.end(), [](const session::NamedSpot& named) {
      return named.facet && named.doubt == naming::Doubt::none;
    });
  };
  CHECK(sure() >= 30);
  auto pixels = std::make_shared<const std::string>(300 * 300 * 4, '\x40');
  session::apply(session, {act::OpenPhoto{"frame 26", 300, 300, pixels}, act::ReadPhotos{}});
  sitting::answer(session);
  CHECK(session.studies.spots.state == session::StudyState::failed);
  CHECK(sitting::says(session, "frames of one film"));
  CHECK(sure() == 0);
}
