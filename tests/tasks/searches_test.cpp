// Budget, form and optimise through the door of requests: keys, the same answer as the direct call,
// bad settings, and stopping.
#include <doctest/doctest.h>

#include "files/dish_write.h"
#include "support/demo_dishes.h"
#include "tasks/asking.h"
#include "tasks/budget_task.h"
#include "tasks/form_task.h"
#include "tasks/json.h"
#include "tasks/optimise_task.h"
#include "tasks/task.h"

using tasks::Json;

TEST_CASE("budget: keys, and the same as the direct call") {
  Json request = asking::request_for("budget", support::kiln_yard());
  request["rays"] = 4000;
  request["sun_x_mrad"] = 1;
  const std::string text = asking::reply_text(request);
  const Json reply = Json::parse(text);
  for (const char* key : {"rays", "seed", "power_receiver_W", "standard_error_W", "perfect_W",
                          "together_W", "spot_mm", "causes", "merit", "advice"}) {
    CHECK_MESSAGE(reply.contains(key), key);
  }
  CHECK(reply["causes"].size() == optics::k_causes);
  tasks::BudgetRequest direct;
  direct.settings.rays = 4000;
  direct.settings.tracking_error_rad = {0.001, 0.0};
  direct.settings.workers = 2;
  const auto same = tasks::run(support::kiln_yard(), direct);
  REQUIRE(same.ok());
  CHECK(tasks::json_text(same.value()) == text);
  CHECK(tasks::report_text(same.value()).find("size of the sun") != std::string::npos);
  request["rays"] = 0;
  CHECK(asking::problem_of(request).find("rays") != std::string::npos);
}

TEST_CASE("form: keys, and the dish with the taken surfaces") {
  Json request = asking::request_for("form", support::kiln_yard());
  request["take"] = "common_sphere";
  const std::string text = asking::reply_text(request);
  const Json reply = Json::parse(text);
  CHECK(reply["options"].size() >= 6);
  CHECK(reply["facets"].size() == 24);
  CHECK(reply["dish"]["format"] == "facetwright dish");
  const auto direct =
      tasks::run(support::kiln_yard(), tasks::FormRequest{.take = optics::FormKind::common_sphere});
  REQUIRE(direct.ok());
  CHECK(tasks::json_text(direct.value()) == text);
  CHECK(tasks::report_text(direct.value()).find("one sphere for all") != std::string::npos);
  request["take"] = "wavy";
  CHECK(asking::problem_of(request).find("own_piece") != std::string::npos);
}

TEST_CASE("optimise: both searches, and settings of the other one") {
  Json aims = asking::request_for("optimise", support::kiln_yard());
  aims["limit_W_m2"] = 60'000;
  const Json reply = Json::parse(asking::reply_text(aims));
  CHECK(reply["what"] == "aims");
  CHECK(reply["within_limit"] == true);
  CHECK(reply["aims"].size() == 24);
  CHECK(reply["dish"]["facets"].size() == 24);
  Json size = asking::request_for("optimise", support::kiln_yard());
  size["what"] = "size";
  size["mean_concentration"] = 40;
  const Json resized = Json::parse(asking::reply_text(size));
  CHECK(resized["what"] == "size");
  CHECK(resized["best"]["possible"] == true);
  size["limit_W_m2"] = 1000;
  CHECK(asking::problem_of(size).find("no such setting") != std::string::npos);
  aims["limit_W_m2"] = -1;
  CHECK(asking::problem_of(aims).find("limit_W_m2") != std::string::npos);
}

TEST_CASE("each of them can be stopped") {
  for (const char* task : {"budget", "form", "optimise"}) {
    const auto stopped = tasks::run(tasks::to_dense_text(asking::request_for(task)),
                                    {.report = {}, .is_cancelled = [] { return true; }});
    REQUIRE(!stopped.ok());
    CHECK(stopped.problems()[0].place == "cancelled");
  }
}
