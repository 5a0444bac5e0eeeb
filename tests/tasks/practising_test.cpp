// Practice and identification through the door that requests come by.
#include <doctest/doctest.h>

#include <algorithm>

#include "dish/defaults.h"
#include "naming/schemes.h"
#include "tasks/asking.h"
#include "tasks/identify_task.h"
#include "tasks/practice_task.h"

namespace {

using tasks::Json;

Json practice_request() {
  Json request = asking::request_for("practice");
  request["trials"] = 4;
  request["rounds"] = 2;
  request["seed"] = 7;
  return request;
}

/// A photograph of the default dish's spots on a board inside the focus, in the opposite order.
Json identify_request() {
  const dish::Dish dish = dish::default_dish();
  const double before = 0.2 * dish.focal_length_m;
  const auto target = naming::target_of(dish, naming::defocus_sighting(dish, before),
                                        naming::priors_of(dish, naming::k_caliper_tilt_rad));
  REQUIRE(target.ok());
  Json spots = Json::array();
  for (auto cell = target.value().cells.rbegin(); cell != target.value().cells.rend(); ++cell) {
    spots.push_back(Json{{"right_mm", 1e3 * cell->mark_m.x},
                         {"up_mm", 1e3 * cell->mark_m.y},
                         {"flux_share", 1.0},
                         {"flags", Json::array()}});
  }
  Json request = asking::request_for("identify");
  const double z_mm = 1e3 * (dish.focal_length_m - before);
  request["board"] =
      Json{{"centre_mm", {0, 0, z_mm}}, {"lit_normal", {0, 0, -1}}, {"up", {0, 1, 0}}};
  request["photos"] = Json::array({Json{{"spots", spots}}});
  return request;
}

}  // namespace

TEST_CASE("practice: rounds with what they cost and what they leave") {
  const Json reply = Json::parse(asking::reply_text(practice_request()));
  CHECK(reply["trials"] == 4);
  CHECK(reply["seed"] == 7);
  CHECK(reply["start_mrad"].get<double>() == doctest::Approx(4.2).epsilon(0.2));
  REQUIRE(reply["rounds"].size() == 2);
  for (const Json& round : reply["rounds"]) {
    for (const char* key : {"photos", "unseen", "wrong", "facets_turned", "turns", "rms_mrad",
                            "rms_95_mrad", "largest_mrad"}) {
      CHECK(round.contains(key));
    }
    CHECK(round["rms_mrad"].get<double>() < 2.0);
    CHECK(round["largest_mrad"].get<double>() > round["rms_mrad"].get<double>());
  }
  CHECK(reply["reason"].get<std::string>().size() > 20);
}

TEST_CASE("practice: the same bytes in one part or in several") {
  const dish::Dish dish = dish::default_dish();
  tasks::PracticeRequest request;
  request.trials = 5;
  request.settings.rounds = 2;
  const auto whole = tasks::run(dish, request);
  REQUIRE(whole.ok());
  std::vector<tasks::PracticeReply> parts;
  for (const auto& bounds : {std::pair{0u, 2u}, std::pair{2u, 3u}}) {
    tasks::PracticeRequest part = request;
    part.first_trial = bounds.first;
    part.trials = bounds.second;
    parts.push_back(tasks::run(dish, part).value());
  }
  const tasks::PracticeReply joined = tasks::joined(parts);
  CHECK(tasks::json_text(joined) == tasks::json_text(whole.value()));
  CHECK(tasks::csv_text(joined) == tasks::csv_text(whole.value()));
  CHECK(tasks::report_text(joined) == tasks::report_text(whole.value()));
}

TEST_CASE("practice: can be told to stop, and tells how far it is") {
  tasks::PracticeRequest request;
  request.trials = 3;
  double last = 0.0;
  int asked = 0;
  const base::Progress progress{.report = [&](double done) { last = done; },
                                .is_cancelled = [&] { return ++asked > 1; }};
  const auto reply = tasks::run(dish::default_dish(), request, progress);
  REQUIRE_FALSE(reply.ok());
  CHECK(reply.problems()[0].value == "cancelled");
  CHECK(last > 0.0);
  CHECK(last < 1.0);
}

TEST_CASE("practice: refuses what it cannot play") {
  Json request = practice_request();
  request["scheme"] = "defocsu";
  CHECK(asking::problem_of(request).find("defocus") != std::string::npos);
  request = practice_request();
  request["start_mrad"] = 3;
  request["start_between_mrad"] = {5, 20};
  CHECK(asking::problem_of(request).find("one of the two") != std::string::npos);
  request = practice_request();
  request["start_between_mrad"] = {20, 5};
  CHECK(asking::problem_of(request).find("greatest tilt") != std::string::npos);
  request = practice_request();
  request["trials"] = 0;
  CHECK(asking::problem_of(request).find("trials") != std::string::npos);
}

TEST_CASE("identify: spots without names come back with theirs") {
  const dish::Dish dish = dish::default_dish();
  const Json reply = Json::parse(asking::reply_text(identify_request()));
  REQUIRE(reply["facets"].size() == dish.facets.size());
  CHECK(reply["sure"] == dish.facets.size());
  CHECK(reply["doubtful"] == 0);
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    CHECK(reply["facets"][i]["facet"] == dish.facets[i].id.text);
    CHECK(reply["facets"][i]["doubt"] == "none");
    CHECK(reply["facets"][i]["distance"].get<double>() < 0.1);
  }
  CHECK(reply["common"]["doubt"] == false);
}

TEST_CASE("identify: a second photograph of one facet alone settles a doubt") {
  Json request = identify_request();
  Json& spots = request["photos"][0]["spots"];
  const Json first = spots.back();
  spots.erase(spots.size() - 1);
  const Json doubtful = Json::parse(asking::reply_text(request));
  CHECK(doubtful["doubtful"] == 1);
  CHECK(doubtful["facets"][0]["doubt"] == "missing");
  CHECK(doubtful["facets"][0]["right_mm"].is_null());
  const std::string name = doubtful["facets"][0]["facet"];
  CHECK(doubtful["facets"][0]["text"].get<std::string>().find(name + " alone") !=
        std::string::npos);
  request["photos"].push_back(Json{{"uncovered", {name}}, {"spots", Json::array({first})}});
  const Json settled = Json::parse(asking::reply_text(request));
  CHECK(settled["facets"].back()["facet"] == name);
  CHECK(settled["facets"].back()["doubt"] == "none");
}

TEST_CASE("identify: refuses strangers and empty requests") {
  Json request = identify_request();
  request["photos"][0]["uncovered"] = {"nobody"};
  CHECK(asking::problem_of(request).find("nobody") != std::string::npos);
  request = identify_request();
  request["photos"] = Json::array();
  CHECK(asking::problem_of(request).find("photos") != std::string::npos);
  request = identify_request();
  request["photos"][0]["spots"][0].erase("up_mm");
  CHECK(asking::problem_of(request).find("up_mm") != std::string::npos);
}
