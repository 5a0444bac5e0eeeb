// The task "look_back": requests that are wrong, the reply and its reading, and the page's request.
#include "tasks/look_back_task.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "asking.h"
#include "support/demo_dishes.h"
#include "support/look_back_scene.h"
#include "support/says.h"

namespace {

using support::says;
using tasks::Json;

/// Larch Refuge's facets at nominal, by the paraboloid that they stand on.
support::LookBackScene refuge_scene(const dish::Dish& dish) {
  support::LookBackScene scene;
  scene.focal_px = 4000.0;
  scene.width = scene.height = 300;
  const double f = dish.focal_length_m;
  scene.screen_m = {0.0, 0.0, f};
  for (const dish::Facet& facet : dish.facets) {
    const base::Vec3& c = facet.centre_m;
    scene.mirrors.push_back({.centre_m = c,
                             .normal = base::unit({-c.x / (2.0 * f), -c.y / (2.0 * f), 1.0}),
                             .radius_m = 2.0 * f});
  }
  return scene;
}

struct SentLookBack {
  dish::Dish dish = support::larch_refuge();
  support::LookBackScene scene = refuge_scene(dish);
  Json request = asking::request_for("look_back", dish);
  std::string pixels;

  SentLookBack() {
    request["screen"] = {{"width_mm", 340}, {"height_mm", 190}};
    request["camera_mm"] = {0, 0, 30000};
    request["pointed"] = Json::array();
    request["photos"] = Json::array();
    for (const char* id : {"C1", "C4", "C7", "C10", "C13"}) {
      const auto& facet = dish.facets[dish::find_facet(dish, {id})];
      const base::Vec2 at = support::seen_at(scene, facet.centre_m);
      request["pointed"].push_back(Json{{"facet", id}, {"x_px", at.x}, {"y_px", at.y}});
    }
    for (const auto& bytes : support::render(scene)) {
      pixels.append(bytes.begin(), bytes.end());
      request["photos"].push_back(Json{{"width_px", scene.width},
                                       {"height_px", scene.height},
                                       {"channels", 1},
                                       {"bytes", bytes.size()}});
    }
  }
  [[nodiscard]] base::Result<std::string> answer() const {
    return tasks::run(tasks::to_dense_text(request) + std::string(1, '\0') + pixels);
  }
  [[nodiscard]] std::string problem() const {
    const auto reply = answer();
    return reply ? "none" : base::to_text(reply.problems());
  }
};

}  // namespace

TEST_CASE("a look back answers with every facet's place of the screen, and is read back") {
  const SentLookBack sent;
  const auto text = sent.answer();
  if (!text) FAIL(base::to_text(text.problems()));
  const Json json = tasks::parse_json(text.value(), "reply").value();
  CHECK(json.at("read") == 36);
  CHECK(json.at("facets").size() == 36);
  const auto reply = tasks::read_look_back_reply(text.value());
  REQUIRE(reply.ok());
  CHECK(reply.value().pointed == 5);
  const auto spots = tasks::spots_of(reply.value());
  REQUIRE(spots.size() == 36);
  double most = 0.0;
  for (std::size_t k = 0; k < spots.size(); ++k) {
    CHECK(spots[k].facet == sent.dish.facets[k].id);
    const base::Vec2 shown = support::shown_by(sent.scene, sent.scene.mirrors[k]);
    most = std::max(most, glm::distance(spots[k].seen_m, shown));
    REQUIRE(spots[k].sigma_m);
    CHECK(*spots[k].sigma_m < 2e-3);
  }
  CHECK(most < 2e-3);
  CHECK(says(tasks::report_text(reply.value()), "36 of 36"));
}

TEST_CASE("requests of a look back that are wrong are refused in words") {
  const SentLookBack good;
  SentLookBack sent = good;
  sent.request.erase("screen");
  CHECK(says(sent.problem(), "request.screen: missing"));
  sent = good;
  sent.request["screen"].erase("height_mm");
  CHECK(says(sent.problem(), "request.screen.height_mm: missing"));
  sent = good;
  sent.request["screen"]["width_mm"] = 20;
  CHECK(says(sent.problem(), "screen.width_mm: 20 mm"));
  sent = good;
  sent.request.erase("camera_mm");
  CHECK(says(sent.problem(), "request.camera_mm: missing"));
  sent = good;
  sent.request["camera_mm"] = {0, 0, -100};
  CHECK(says(sent.problem(), "in front of all facets"));
  sent = good;
  sent.request["pointed"].erase(0);
  sent.request["pointed"].erase(0);
  CHECK(says(sent.problem(), "facets pointed at: 3"));
  sent = good;
  sent.request["pointed"][1]["facet"] = "Z99";
  CHECK(says(sent.problem(), "there is no facet Z99"));
  sent = good;
  sent.request["pointed"][1]["x_px"] = "left";
  CHECK(says(sent.problem(), "pointed[1].x_px"));
  sent = good;
  sent.request["photos"].erase(7);
  sent.pixels.resize(sent.pixels.size() / 8 * 7);
  CHECK(says(sent.problem(), "photos: 7"));
  sent = good;
  sent.pixels.pop_back();
  CHECK(says(sent.problem(), "photos[7].bytes"));
  CHECK(says(asking::problem_of(asking::request_for("check")), "none"));
}

TEST_CASE("the page's own request is one that the task takes") {
  const SentLookBack good;
  std::vector<std::string> rgba;
  for (const auto& bytes : support::render(good.scene)) {
    std::string one;
    for (const std::uint8_t value : bytes)
      one.append(3, static_cast<char>(value)).push_back('\xff');
    rgba.push_back(std::move(one));
  }
  std::vector<tasks::RgbaPixels> photos;
  for (const std::string& one : rgba) photos.push_back({"p", 300, 300, one});
  std::vector<tasks::PointedFacet> pointed;
  for (const Json& one : good.request["pointed"]) {
    pointed.push_back({{one["facet"].get<std::string>()},
                       {one["x_px"].get<double>(), one["y_px"].get<double>()}});
  }
  const auto text = tasks::run(tasks::look_back_request(files::write_dish(good.dish), photos,
                                                        {0.34, 0.19}, {0.0, 0.0, 30.0}, pointed));
  if (!text) FAIL(base::to_text(text.problems()));
  CHECK(text.value().size() > 100);
  const auto same = good.answer();
  REQUIRE(same.ok());
  CHECK(text.value() == same.value());
}

TEST_CASE("the page of fringes is a task of its own") {
  const std::string reply = asking::reply_text(
      Json{{"task", "fringes"}, {"screen", {{"width_mm", 344}, {"height_mm", 194}}}});
  CHECK(says(reply, "<!doctype html>"));
  CHECK(says(asking::problem_of(Json{{"task", "fringes"}}), "request.screen: missing"));
}
