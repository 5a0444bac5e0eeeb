// Budget, form and optimise through the door of requests: keys, the same answer as the direct call,
// bad settings, and stopping.
#include <doctest/doctest.h>

#include "files/dish_write.h"
#include "support/demo_dishes.h"
#include "tasks/budget_task.h"
#include "tasks/form_task.h"
#include "tasks/json.h"
#include "tasks/optimise_task.h"
#include "tasks/task.h"

namespace {

using tasks::Json;

Json request_for(const char* task) {
  return Json{{"task", task}, {"dish", files::write_dish(support::kiln_yard())}};
}

std::string reply_to(const Json& request) {
  const auto reply = tasks::run(tasks::to_dense_text(request));
  if (!reply) FAIL(base::to_text(reply.problems()));
  return reply.value();
}

std::string problem_of(const Json& request) {
  const auto reply = tasks::run(tasks::to_dense_text(request));
  return reply ? "none" : base::to_text(reply.problems());
}

}  // namespace

TEST_CASE("budget: keys, and the same as the direct call") {
  Json request = request_for("budget");
  request["rays"] = 4000;
  request["sun_x_mrad"] = 1;
  const std::string text = reply_to(request);
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
  CHECK(problem_of(request).find("rays") != std::string::npos);
}

TEST_CASE("form: keys, and the dish with the taken surfaces") {
  Json request = request_for("form");
  request["take"] = "common_sphere";
  const std::string text = reply_to(request);
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
  CHECK(problem_of(request).find("own_piece") != std::string::npos);
}

TEST_CASE("optimise: both searches, and settings of the other one") {
  Json aims = request_for("optimise");
  aims["limit_W_m2"] = 60'000;
  const Json reply = Json::parse(reply_to(aims));
  CHECK(reply["what"] == "aims");
  CHECK(reply["within_limit"] == true);
  CHECK(reply["aims"].size() == 24);
  CHECK(reply["dish"]["facets"].size() == 24);
  Json size = request_for("optimise");
  size["what"] = "size";
  size["mean_concentration"] = 40;
  const Json resized = Json::parse(reply_to(size));
  CHECK(resized["what"] == "size");
  CHECK(resized["best"]["possible"] == true);
  size["limit_W_m2"] = 1000;
  CHECK(problem_of(size).find("no such setting") != std::string::npos);
  aims["limit_W_m2"] = -1;
  CHECK(problem_of(aims).find("limit_W_m2") != std::string::npos);
}

TEST_CASE("each of them can be stopped") {
  for (const char* task : {"budget", "form", "optimise"}) {
    const auto stopped = tasks::run(tasks::to_dense_text(request_for(task)),
                                    {.report = {}, .is_cancelled = [] { return true; }});
    REQUIRE(!stopped.ok());
    CHECK(stopped.problems()[0].place == "cancelled");
  }
}
