// The log as an answer: told, merged, taken back; by JSON as by direct call.
#include "tasks/rounds_task.h"

#include <doctest/doctest.h>

#include "asking.h"
#include "dish/edit.h"
#include "files/dish_read.h"
#include "support/says.h"
#include "tasks/align_task.h"

namespace {

using tasks::Json;

dish::Round look(const std::string& name, double right_m) {
  dish::Round round{.name = name, .source = dish::LaserSource{}};
  for (const char* id : {"A1", "A2", "B1", "B2"}) {
    round.spots.push_back({.facet = {id}, .seen_m = {right_m, -0.004}});
  }
  return round;
}

/// Two rounds: after the first, screw 1 of A1 was turned.
dish::Dish logged() {
  dish::Dish dish = dish::default_dish();
  dish.rounds = {look("First", 0.03), look("Second", 0.028)};
  dish.rounds[0].told = {{.facet = {"A1"}, .screw = "1", .turns = 0.25}};
  dish.rounds[0].turned = dish.rounds[0].told;
  return dish;
}

Json reply_of(const Json& request) { return Json::parse(asking::reply_text(request)); }

}  // namespace

TEST_CASE("rounds: the reply has a row for each round and facet, and the outlook in watts") {
  const Json request = asking::request_for("rounds", logged());
  const Json reply = reply_of(request);
  REQUIRE(reply["rounds"].size() == 2);
  CHECK(reply["rounds"][0]["facets_turned"] == 1);
  CHECK(reply["rounds"][0]["facets"][0]["expected_mm"].is_null());
  CHECK(reply["rounds"][1]["facets"][0]["expected_mm"].is_array());
  CHECK(reply["rounds"][1]["rms_tilt_mrad"].get<double>() > 1.0);
  CHECK(reply["outlook"]["now_W"].get<double>() > 0.0);
  CHECK(reply["outlook"]["after_one_round_mrad"].get<double>() <
        reply["outlook"]["now_mrad"].get<double>());
  CHECK(!reply.contains("file"));
  CHECK(support::says(reply["verdict"], "one round more"));
  const auto direct = tasks::run(logged(), tasks::RoundsRequest{});
  REQUIRE(direct.ok());
  CHECK(reply == Json::parse(tasks::json_text(direct.value())));
  const std::string report = tasks::report_text(direct.value());
  CHECK(support::says(report, "First"));
  CHECK(support::says(report, "expected next"));
}

TEST_CASE("rounds: two files become one, and what differs outside the log is named") {
  dish::Dish other = logged();
  other.rounds.push_back(look("Third", 0.01));
  other.focal_length_m = 2.1;
  Json request = asking::request_for("rounds", logged());
  request["merge"] = files::write_dish(other);
  request["watts"] = false;
  const Json reply = reply_of(request);
  CHECK(reply["rounds"].size() == 3);
  REQUIRE(reply["conflicts"].size() == 1);
  CHECK(support::says(reply["conflicts"][0], "focal_length"));
  CHECK(reply["notes"] == Json::array({"Third comes from the other file."}));
  CHECK(reply["outlook"]["now_W"].is_null());
  const auto read = files::read_dish(reply["file"].get<std::string>(), "merged");
  REQUIRE(read.ok());
  CHECK(read.value().dish.rounds == other.rounds);
  request["merge"] = "{}";
  CHECK(support::says(asking::problem_of(request), "request.merge"));
}

TEST_CASE("rounds: the last round is taken back with its turns") {
  dish::Dish dish = logged();
  dish.rounds.pop_back();
  dish.facets[dish::find_facet(dish, {"A1"})].displacement_m = {0.00025, 0.0, 0.0};
  Json request = asking::request_for("rounds", dish);
  request["undo_last"] = true;
  const Json reply = reply_of(request);
  CHECK(reply["taken_back"] == "First");
  CHECK(reply["rounds"].empty());
  const auto read = files::read_dish(reply["file"].get<std::string>(), "shorter");
  REQUIRE(read.ok());
  const auto& facet = read.value().dish.facets[dish::find_facet(dish, {"A1"})];
  CHECK(std::abs(facet.displacement_m[0]) < 1e-12);
  CHECK(support::says(asking::problem_of(asking::request_for("rounds")), "none is logged"));
}

TEST_CASE("align: a screw that earlier rounds taught tells its gain") {
  Json request = asking::request_for("align", logged());
  request["round"] = "last";
  const Json reply = reply_of(request);
  const Json& screws = reply["facets"][0]["screws"];
  CHECK(screws[0]["gain_sigma"].get<double>() > 0.0);
  CHECK(support::says(screws[0]["gain_text"], "of nominal"));
  CHECK(screws[1]["gain"] == 1.0);
  CHECK(screws[1]["gain_text"] == "");
}
