// A look back on the table: rendered photos of a hidden dish, facets pointed at, fringes read by
// the worker's task, and a round that tells the hidden dish's turns.
#include "session/look_back.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "session/figures.h"
#include "session/photos.h"
#include "session/sitting.h"
#include "support/look_back_scene.h"
#include "support/photo_scene.h"
#include "support/says.h"
#include "tasks/task.h"

namespace {

using session::Session;
namespace act = session::act;

constexpr double k_hidden_rad = 0.003;  ///< per axis

/// The dish of the sitting with every facet tilted by what only the test knows.
support::LookBackScene hidden_scene(const Session& session, double tilt_rad) {
  support::LookBackScene scene;
  scene.camera_m = {0.4, -0.3, 28.0};
  scene.looks_at_m = {0.02, 0.01, 0.0};
  scene.roll_turns = -0.01;
  scene.focal_px = 6000.0;
  scene.width = scene.height = 440;
  scene.screen_m = {0.0, 0.0, session.document.dish.focal_length_m};
  const auto& stances = *session.stances.value;
  for (std::size_t k = 0; k < stances.size(); ++k) {
    const auto number = static_cast<std::uint32_t>(k);
    const base::Mat3 axes = base::frame_of_normal(stances[k].nominal.normal);
    const double a = tilt_rad * support::seeded_normal(11, number, 0);
    const double b = tilt_rad * support::seeded_normal(11, number, 1);
    scene.mirrors.push_back({.centre_m = stances[k].nominal.centre,
                             .normal = base::unit(axes[2] + a * axes[0] + b * axes[1]),
                             .across_flats_m = 0.23,
                             .radius_m = 2.0 * session.document.dish.focal_length_m,
                             .reflectance = 0.6 + 0.3 * support::seeded_even(12, number, 0)});
  }
  return scene;
}

act::OpenPhoto opened_photo(const support::LookBackScene& scene,
                            const std::vector<std::uint8_t>& grey, const std::string& name) {
  auto rgba = std::make_shared<std::string>();
  rgba->reserve(4 * grey.size());
  for (const std::uint8_t value : grey) {
    for (int channel = 0; channel < 3; ++channel) rgba->push_back(static_cast<char>(value));
    rgba->push_back('\xff');
  }
  return {name, scene.width, scene.height, rgba};
}

/// A sitting with the eight photos, which arrive in any order.
Session with_photos(const Session& start, const support::LookBackScene& scene) {
  Session session = start;
  const auto photos = support::render(scene);
  for (const std::size_t k : {3UL, 1UL, 0UL, 7UL, 2UL, 6UL, 5UL, 4UL}) {
    session::apply(session, {opened_photo(scene, photos[k], "IMG_" + std::to_string(97 + k))});
  }
  session::apply(
      session,
      {act::SetPhotoKind{session::PhotoKind::fringes},
       act::SetLookBack{{scene.screen_width_m, scene.screen_height_m}, scene.camera_m, 0.0}});
  return session;
}

base::Vec2 middle_of_facet(const Session& session, const support::LookBackScene& scene,
                           const dish::FacetId& id) {
  const std::size_t k = dish::find_facet(session.document.dish, id);
  return support::seen_at(scene, scene.mirrors[k].centre_m);
}

/// Points where the page proposes, a pixel or so beside the middles.
void point_at(Session& session, const support::LookBackScene& scene, std::uint32_t count) {
  for (std::uint32_t k = 0; k < count; ++k) {
    const auto id = session::next_facet_to_point(session);
    REQUIRE(id);
    const base::Vec2 off{support::seeded_even(13, k, 0), support::seeded_even(13, k, 1)};
    session::apply(session, {act::PointAtFacet{*id, middle_of_facet(session, scene, *id) + off}});
  }
}

double hidden_tilt(const support::LookBackScene& scene, const Session& session, std::size_t k) {
  const base::Vec3& nominal = (*session.stances.value)[k].nominal.normal;
  return std::atan2(glm::length(glm::cross(scene.mirrors[k].normal, nominal)),
                    glm::dot(scene.mirrors[k].normal, nominal));
}

}  // namespace

TEST_CASE("eight photos and five facets pointed at find every hidden tilt without sun") {
  const Session start = sitting::at_nominal();
  const auto scene = hidden_scene(start, k_hidden_rad);
  Session session = with_photos(start, scene);
  CHECK(session::standing_of_photo(session, 0).find("picture 4 of 8: across") != std::string::npos);
  CHECK(session::facets_in_photo(session).empty());
  point_at(session, scene, 6);
  for (const session::FacetInPhoto& facet : session::facets_in_photo(session)) {
    CHECK(glm::distance(facet.image_px, middle_of_facet(session, scene, facet.facet)) < 3.0);
  }
  REQUIRE(session::can_read_look_back(session));
  CHECK_FALSE(session::can_take_photos(session));
  session::apply(session, {act::ReadPhotos{}});
  sitting::answer(session);
  const auto facets = session::facets_in_photo(session);
  REQUIRE(facets.size() == 36);
  for (const session::FacetInPhoto& facet : facets) {
    CHECK(facet.was_read);
    CHECK_FALSE(facet.sentence.empty());
  }
  REQUIRE(session::can_take_photos(session));
  session::apply(session, {act::TakePhotoSpots{}});
  CHECK_FALSE(session.photo_work.shown);
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  REQUIRE(std::holds_alternative<dish::CameraSource>(round->source));
  CHECK(std::get<dish::CameraSource>(round->source).position_m == scene.camera_m);
  CHECK(round->spots.size() == 36);
  REQUIRE(session.plan.value);
  REQUIRE(session.plan.value->facets.size() == 36);
  double most = 0.0;
  for (std::size_t k = 0; k < 36; ++k) {
    const double told = glm::length(session.plan.value->facets[k].tilt_error_rad);
    most = std::max(most, std::abs(told - hidden_tilt(scene, session, k)));
  }
  // A millimetre on the screen is a quarter of a milliradian.
  CHECK(most < 2.5e-4);
}

TEST_CASE("what is missing for a look back is said in words") {
  const Session start = sitting::at_nominal();
  const auto scene = hidden_scene(start, 0.0);
  Session session = with_photos(start, scene);
  CHECK(session::standing_of_look_back(session) == "0 of 4 facets are pointed at.");
  session::apply(session, {act::ReadPhotos{}});
  CHECK(sitting::says(session, "cannot be read yet"));
  CHECK(session.outbox.jobs.empty());

  // Four in a row of the lattice.
  for (const char* id : {"C1", "C2", "C3", "C4"}) {
    session::apply(session, {act::PointAtFacet{{id}, middle_of_facet(session, scene, {id})}});
  }
  CHECK(support::says(session::standing_of_look_back(session), "line"));
  CHECK_FALSE(session::can_read_look_back(session));

  session::apply(session, {act::DropPhoto{0}});
  CHECK(session::standing_of_look_back(session) == "7 of 8 photos are here.");
  session::apply(session, {act::SetLookBack{{0.01, 0.2}, scene.camera_m, 0.0}});
  CHECK(session.photo_work.look_back.screen.width_m == scene.screen_width_m);
  session::apply(session, {act::SetLookBack{{0.34, 0.2}, {0.0, 0.0, -5.0}, 0.0}});
  CHECK(session.photo_work.look_back.problems.size() == 1);
  CHECK_FALSE(session::next_facet_to_point(session));
}

TEST_CASE("a click beside its facet is refused once the others can tell") {
  const Session start = sitting::at_nominal();
  const auto scene = hidden_scene(start, 0.0);
  Session session = with_photos(start, scene);
  point_at(session, scene, 6);
  const dish::FacetId slipped = session.photo_work.look_back.pointed[2].facet;
  session::apply(session, {act::PointAtFacet{slipped, middle_of_facet(session, scene, slipped) +
                                                          base::Vec2(90.0, 60.0)}});
  REQUIRE(session.photo_work.look_back.problems.size() == 1);
  CHECK(support::says(base::to_line(session.photo_work.look_back.problems.front()),
                      slipped.text + " does not fit the others"));
  session::apply(session, {act::PointAtFacet{slipped, {}}});
  CHECK(session.photo_work.look_back.problems.empty());
  CHECK(session::can_read_look_back(session));
}

TEST_CASE("a reading never outlives the places it was made at") {
  const Session start = sitting::at_nominal();
  const auto scene = hidden_scene(start, 0.002);
  Session session = with_photos(start, scene);
  point_at(session, scene, 5);
  session::apply(session, {act::ReadPhotos{}});
  sitting::answer(session);
  REQUIRE(session::can_take_photos(session));
  // Turning a screw moves no facet's centre.
  session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 1e-4)});
  CHECK(session::can_take_photos(session));
  session::apply(session, {act::SetPhotoKind{session::PhotoKind::spots}});
  CHECK_FALSE(session::can_take_photos(session));
  session::apply(session, {act::SetPhotoKind{session::PhotoKind::fringes}, act::ReadPhotos{}});
  sitting::answer(session);
  REQUIRE(session::can_take_photos(session));
  session::apply(session, {act::OpenDemo{"Kiln Yard"}});
  CHECK_FALSE(session::can_take_photos(session));
  session::apply(session, {act::TakePhotoSpots{}});
  CHECK(session::facets_in_photo(session).size() != 36);
}

TEST_CASE("an answer to what has changed meanwhile is not taken") {
  const Session start = sitting::at_nominal();
  const auto scene = hidden_scene(start, 0.002);
  Session session = with_photos(start, scene);
  point_at(session, scene, 5);
  session::apply(session, {act::ReadPhotos{}});
  REQUIRE_FALSE(session.outbox.jobs.empty());
  const session::Job job = session.outbox.jobs.back();
  session.outbox.jobs.clear();  // the worker has it
  session::apply(session, {act::OpenDemo{"Kiln Yard"}});
  session::accept_reply(session, job.id, tasks::run_to_text(job.request));
  CHECK_FALSE(session.studies.look_back.reply.has_value());
  CHECK_FALSE(session::can_take_photos(session));
}

TEST_CASE("the page for the screen is saved, and more photos than fit are refused in words") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::ExportFringes{}});
  REQUIRE(session.outbox.saves.size() == 1);
  CHECK(session.outbox.saves.front().mime == "text/html");
  const auto large = std::make_shared<const std::string>(std::size_t{200} << 20U, '\0');
  for (int k = 0; k < 3; ++k) session::apply(session, {act::OpenPhoto{"large", 8192, 6400, large}});
  CHECK(session.photo_work.photos.size() == 2);
  CHECK(sitting::says(session, "No room for large"));
}
