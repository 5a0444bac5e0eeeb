// A trace in parts: requests and replies as text, merged to the same bits as in one piece.
#include <doctest/doctest.h>

#include <cstring>

#include "dish/defaults.h"
#include "files/dish_write.h"
#include "tasks/task.h"
#include "tasks/trace_parts.h"

namespace {

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() &&
         (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

/// A dish whose light spills and whose screws are off, under a sun that is off by an odd number.
dish::Dish untidy_dish() {
  dish::Dish dish = dish::default_dish();
  dish.receiver.shape = dish::DiscReceiver{.diameter_m = 0.02};
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const double step = 1e-4 * static_cast<double>(k % 7);
    dish.facets[k].displacement_m = {step, -2.0 * step, 0.5 * step};
  }
  return dish;
}

tasks::TraceRequest untidy_request() {
  tasks::TraceRequest request;
  request.settings.rays = 100'000;
  request.settings.seed = 18446744073709551615ULL;
  request.settings.tracking_error_rad = {0.1 / 3.0 * 0.1, -0.0017};
  request.settings.map_cells = 33;
  request.settings.map_width_m = 0.1 / 3.0;
  return request;
}

std::vector<std::string> replies_of(const dish::Dish& dish, const tasks::TraceRequest& request,
                                    std::size_t parts) {
  const std::string text = files::write_dish(dish);
  std::vector<std::string> replies;
  for (std::size_t part = 0; part < parts; ++part) {
    const auto reply = tasks::run(tasks::trace_part_request(text, request, part, parts));
    REQUIRE(reply.ok());
    replies.push_back(reply.value());
  }
  return replies;
}

}  // namespace

TEST_CASE("eight parts through text make the whole trace, bit for bit") {
  const dish::Dish dish = untidy_dish();
  const tasks::TraceRequest request = untidy_request();
  const auto whole = tasks::run(dish, request);
  REQUIRE(whole.ok());
  for (const std::size_t parts : {1U, 3U, 8U}) {
    CAPTURE(parts);
    std::vector<std::string> replies = replies_of(dish, request, parts);
    std::swap(replies.front(), replies.back());
    const auto merged = tasks::merge_trace_parts(dish, request, replies);
    REQUIRE(merged.ok());
    CHECK(tasks::json_text(tasks::TraceReply{.result = merged.value(), .with_map = true}) ==
          tasks::json_text(tasks::TraceReply{.result = whole.value().result, .with_map = true}));
    CHECK(same_bits(merged.value().map.flux_W_m2, whole.value().result.map.flux_W_m2));
  }
  CHECK(whole.value().result.ledger.spillage_W > 0.0);
}

TEST_CASE("one facet alone can be traced in parts too") {
  const dish::Dish dish = untidy_dish();
  tasks::TraceRequest request = untidy_request();
  request.facet = dish.facets[5].id;
  const auto merged = tasks::merge_trace_parts(dish, request, replies_of(dish, request, 2));
  REQUIRE(merged.ok());
  REQUIRE(merged.value().facets.size() == 1);
  CHECK(merged.value().facets[0].id == dish.facets[5].id);
}

TEST_CASE("replies that do not make a whole are refused") {
  const dish::Dish dish = untidy_dish();
  const tasks::TraceRequest request = untidy_request();
  const std::vector<std::string> good = replies_of(dish, request, 2);
  const auto refused = [&](const std::vector<std::string>& replies) {
    return !tasks::merge_trace_parts(dish, request, replies).ok();
  };
  CHECK(refused({}));
  CHECK(refused({good[0]}));
  CHECK(refused({good[0], good[0]}));
  CHECK(refused({good[0], good[1], good[1]}));
  CHECK(refused({good[0], "{}"}));
  CHECK(refused({good[0], "[1]"}));
  CHECK(refused({good[0], ""}));
  CHECK(refused({good[0], R"({"problems": 3})"}));
  for (std::size_t length = 0; length < good[1].size(); length += 997) {
    CHECK(refused({good[0], good[1].substr(0, length)}));
  }
  const auto told = tasks::merge_trace_parts(
      dish, request, {good[0], R"({"problems": [{"place": "a", "value": "b", "expected": "c"}]})"});
  REQUIRE_FALSE(told.ok());
  CHECK(base::to_line(told.problems()[0]) == "a: b; expected c");
}
