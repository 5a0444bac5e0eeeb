// The sun's shape as a trace tells it.
#include "tasks/sun_words.h"

#include "dish/defaults.h"
#include "tasks/trace_task.h"

#include <doctest/doctest.h>

namespace {

dish::Sun sun_of(const dish::SunShape& shape) { return {.shape = shape}; }

}  // namespace

TEST_CASE("every sun in words and in JSON") {
  using tasks::sun_words;
  CHECK(sun_words(sun_of(dish::PillboxSun{})) == "an even disc, half angle 4.65 mrad");
  CHECK(sun_words(sun_of(dish::LimbDarkenedSun{0.61})) ==
        "a disc darker toward its limb (u 0.61), half angle 4.65 mrad");
  CHECK(sun_words(sun_of(dish::GaussianSun{0.0028})) == "a Gaussian of 2.8 mrad per axis");
  CHECK(sun_words(sun_of(dish::CircumsolarSun{0.05})) ==
        "a disc, half angle 4.65 mrad, with 5 % of the light around it");
  CHECK(tasks::to_dense_text(tasks::sun_json(sun_of(dish::CircumsolarSun{0.05}))) ==
        R"({"shape":"circumsolar","half_angle_mrad":4.65,"circumsolar_ratio":0.05})");
  CHECK(tasks::to_dense_text(tasks::sun_json(sun_of(dish::GaussianSun{0.0028}))) ==
        R"({"shape":"gaussian","sigma_mrad":2.8})");
}

TEST_CASE("a trace says what sun it was under, and loses light past the receiver to an aureole") {
  dish::Dish dish = dish::default_dish();
  dish.receiver.shape = dish::DiscReceiver{0.06};
  const auto even = tasks::run(dish, tasks::TraceRequest{.settings = {.rays = 20000}});
  dish.sun.shape = dish::CircumsolarSun{0.2};
  const auto hazy = tasks::run(dish, tasks::TraceRequest{.settings = {.rays = 20000}});
  REQUIRE(even.ok());
  REQUIRE(hazy.ok());
  CHECK(tasks::report_text(hazy.value()).find("with 20 % of the light around it") !=
        std::string::npos);
  CHECK(hazy.value().result.intercept_factor < even.value().result.intercept_factor - 0.01);
}
