// The task "spots": requests with pixels behind them, and the sheet of a board's marks.
#include <doctest/doctest.h>

#include "asking.h"
#include "support/photo_scene.h"
#include "support/says.h"

namespace {

using support::says;
using tasks::Json;

struct Sent {
  Json request{{"task", "spots"},
               {"board", {{"width_mm", 430}, {"height_mm", 430}}},
               {"photos", Json::array()}};
  std::string pixels;

  void add(const support::PhotoScene& scene, const std::string& name) {
    const auto bytes = support::render(scene);
    pixels.append(bytes.begin(), bytes.end());
    request["photos"].push_back(Json{{"name", name},
                                     {"width_px", scene.width},
                                     {"height_px", scene.height},
                                     {"channels", 1},
                                     {"bytes", bytes.size()}});
  }
  [[nodiscard]] std::string text() const {
    return tasks::to_dense_text(request) + std::string(1, '\0') + pixels;
  }
  [[nodiscard]] Json reply() const {
    const auto answer = tasks::run(text());
    if (!answer) FAIL(base::to_text(answer.problems()));
    return tasks::parse_json(answer.value(), "reply").value();
  }
  [[nodiscard]] std::string problem() const {
    const auto answer = tasks::run(text());
    return answer ? "none" : base::to_text(answer.problems());
  }
};

support::PhotoScene small_scene() {
  support::PhotoScene scene;
  scene.width = 640;
  scene.height = 560;
  scene.focal_px = 560.0;
  scene.camera_m = {0.05, -0.06, 0.66};
  scene.samples = 2;
  return scene;
}

}  // namespace

TEST_CASE("a photo behind its request comes back as spots in millimetres") {
  support::PhotoScene scene = small_scene();
  scene.spots = {{.place_m = {0.05, 0.08}}, {.place_m = {-0.07, -0.02}, .level = 0.135}};
  Sent sent;
  sent.add(scene, "IMG 1");
  const Json reply = sent.reply();
  CHECK(reply["board"]["mark_mm"] == 30.0);
  const Json& one = reply["photos"].at(0);
  CHECK(one["name"] == "IMG 1");
  CHECK(one["marks"].size() == 8);
  CHECK(one["marks"][0]["mark"] == "top left");
  CHECK(one["k1_is_fitted"] == true);
  CHECK(one["problems"].empty());
  REQUIRE(one["spots"].size() == 2);
  const Json& spot = one["spots"][0];
  CHECK(spot["right_mm"].get<double>() == doctest::Approx(50.0).epsilon(0.002));
  CHECK(spot["up_mm"].get<double>() == doctest::Approx(80.0).epsilon(0.002));
  CHECK(spot["sigma_mm"].get<double>() < 0.2);
  CHECK(spot["diameter_mm"][0].get<double>() == doctest::Approx(23.0).epsilon(0.04));
  CHECK(spot["flux_share"].get<double>() == doctest::Approx(2.0 / 3.0).epsilon(0.02));
  CHECK(spot["flags"].empty());
}

TEST_CASE("a dark board is seen from where the photo of the covered dish was taken") {
  support::PhotoScene scene = small_scene();
  support::PhotoScene covered = scene;
  scene.exposure = 0.02;
  scene.spots = {{.place_m = {0.05, 0.08}, .level = 15.0}};
  Sent sent;
  sent.add(covered, "covered");
  sent.add(scene, "lit");
  sent.request["reference"] = 0;
  const Json reply = sent.reply();
  REQUIRE(reply["photos"].size() == 1);
  const Json& one = reply["photos"][0];
  REQUIRE(one["spots"].size() == 1);
  CHECK(one["spots"][0]["right_mm"].get<double>() == doctest::Approx(50.0).epsilon(0.004));
  CHECK(says(one["notes"].dump(), "the camera must not have moved"));
}

TEST_CASE("one bad photo among several has its own problems") {
  support::PhotoScene scene = small_scene();
  Sent sent;
  sent.add(scene, "good");
  scene.has_marks = false;
  sent.add(scene, "bare");
  const Json reply = sent.reply();
  CHECK(reply["photos"][0]["problems"].empty());
  CHECK(reply["photos"][1]["problems"][0]["place"] == "bare");
}

TEST_CASE("marks that a person points at") {
  const support::PhotoScene scene = small_scene();
  Sent sent;
  sent.add(scene, "IMG 1");
  const auto marks = photo::marks_of(scene.board);
  sent.request["marks"] = Json::array();
  for (const std::size_t k : {0u, 2u, 4u, 6u}) {
    const base::Vec2 place = support::seen_at(scene, marks[k].place_m);
    sent.request["marks"].push_back(
        Json{{"photo", 0}, {"mark", marks[k].name}, {"x_px", place.x + 3.0}, {"y_px", place.y}});
  }
  const Json reply = sent.reply();
  CHECK(reply["photos"][0]["marks"].size() == 4);
  CHECK(reply["photos"][0]["k1_is_fitted"] == false);
}

TEST_CASE("requests that do not fit their pixels are refused in words") {
  support::PhotoScene scene = small_scene();
  scene.width = 100;
  scene.height = 100;
  scene.focal_px = 100.0;
  Sent good;
  good.add(scene, "IMG 1");
  CHECK(says(good.problem(), "IMG 1"));  // far too small to have marks

  Sent sent = good;
  sent.pixels.pop_back();
  CHECK(says(sent.problem(), "at most the 9999 that follow the request's zero byte"));
  sent = good;
  sent.pixels.push_back('x');
  CHECK(says(sent.problem(), "1 bytes too many"));
  sent = good;
  sent.request["photos"][0]["width_px"] = 10;
  CHECK(says(sent.problem(), "IMG 1: 10 x 100 pixels"));
  sent = good;
  sent.request["photos"][0].erase("bytes");
  CHECK(says(sent.problem(), "request.photos[0]: incomplete"));
  sent = good;
  sent.request["photos"][0]["channels"] = 2;
  CHECK(says(sent.problem(), "2 channels"));
  sent = good;
  sent.request.erase("photos");
  CHECK(says(sent.problem(), "request.photos: missing"));
  sent = good;
  sent.request.erase("board");
  CHECK(says(sent.problem(), "request.board: missing"));
  sent = good;
  sent.request["board"].erase("height_mm");
  CHECK(says(sent.problem(), "request.board.height_mm: missing"));
  sent = good;
  sent.request["board"]["mark_mm"] = 200;
  CHECK(says(sent.problem(), "marks of 5 to 78 mm on this board"));
  sent = good;
  sent.request["reference"] = 3;
  CHECK(says(sent.problem(), "the index of a photo"));
  sent = good;
  sent.request["reference"] = 0;
  CHECK(says(sent.problem(), "IMG 1"));
  sent = good;
  sent.request["marks"] = Json::array({Json{{"mark", "middle"}, {"x_px", 1}, {"y_px", 2}}});
  CHECK(says(sent.problem(), "top left"));
  sent = good;
  sent.request["photos"] = 7;
  CHECK(says(sent.problem(), "a list of at most 128"));
  const auto other = tasks::run(std::string("{\"task\": \"new\"}\0x", 17));
  REQUIRE(!other.ok());
  CHECK(says(base::to_text(other.problems()), "none for this task"));
}

TEST_CASE("the sheet of a board's marks") {
  const Json request{{"task", "board"}, {"board", {{"width_mm", 600}, {"height_mm", 400}}}};
  const Json reply = tasks::parse_json(asking::reply_text(request), "reply").value();
  CHECK(reply["mark_mm"] == 28.0);
  CHECK(reply["marks"].size() == 8);
  CHECK(reply["marks"][0]["right_mm"].get<double>() == doctest::Approx(-279.0));
  CHECK(says(reply["html"].get<std::string>(), "<svg"));
}
