// What mistakes of labels do to an error, in closed form, and the threads a label may name.
#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <cmath>

#include "align/labels.h"
#include "align/learning.h"
#include "align/observe.h"
#include "base/units.h"
#include "support/outside.h"
#include "support/reference_dish.h"

// Error factor I - R with R the true response over the believed one, for equilateral screws: all
// opposite 2; numbers on by one place sqrt 3, turned by 30 degrees; one screw opposite 4/3; lead
// 0.7 for 1: 0.3; frame turned by theta: 2 sin(theta / 2). The vertex facet is symmetric, the probe
// 1e-5 m, so 1e-7.
TEST_CASE("mistakes of labels multiply the error as derived") {
  const dish::Dish dish = support::one_facet_dish({0.0, 0.0, 0.0});
  const auto setup = align::set_up(dish, dish.facets[0]).value();
  const auto sighting = align::sighting_of(dish, {});
  const auto matrix_of = [&](const align::Wiring& wiring) {
    const align::Response f = align::response_of(setup, sighting, {}, wiring).value();
    Eigen::Matrix<double, 2, 3> matrix;
    for (int k = 0; k < 3; ++k) matrix.col(k) << f[k].x, f[k].y;
    return matrix;
  };
  const Eigen::Matrix<double, 2, 3> believed = matrix_of({});
  // Centre kept: the minimal-norm turns of equal screws.
  const Eigen::Matrix<double, 3, 2> solve =
      believed.transpose() * (believed * believed.transpose()).inverse();
  const auto left = [&](const align::Wiring& wiring) {
    const Eigen::Matrix2d rest = Eigen::Matrix2d::Identity() - matrix_of(wiring) * solve;
    return rest;
  };
  struct Row {
    const char* mistake;
    align::Wiring wiring;
    double most, least;
  };
  const auto turned = [](double degrees) {
    return align::Wiring{.frame_turn_rad = base::rad_from_deg(degrees)};
  };
  const Row rows[] = {{"all screws opposite", {.sense = {-1, -1, -1}}, 2.0, 2.0},
                      {"numbers on by one place", {.moves = {1, 2, 0}}, 1.732050808, 1.732050808},
                      {"two screws interchanged", {.moves = {1, 0, 2}}, 2.0, 0.0},
                      {"one screw opposite", {.sense = {-1, 1, 1}}, 1.333333333, 0.0},
                      {"lead of 0.7 for 1", {.lead_factor = 0.7}, 0.3, 0.3},
                      {"frame turned by 15 degrees", turned(15.0), 0.261052384, 0.261052384},
                      {"frame turned by 60 degrees", turned(60.0), 1.0, 1.0},
                      {"frame turned by 150 degrees", turned(150.0), 1.931851653, 1.931851653}};
  constexpr double pins[8] = {2,   1.73205080757, 2, 1.33333333333,
                              0.3, 0.26105238444, 1, 1.93185165258};
  for (std::size_t k = 0; k < std::size(rows); ++k) {
    const Eigen::Vector2d found = left(rows[k].wiring).jacobiSvd().singularValues();
    support::check_outside({.what = std::string("error grows with ") + rows[k].mistake,
                            .source = "linear algebra of an even circle of screws, by hand: I - R",
                            .outside = rows[k].most,
                            .ours = found[0],
                            .tolerance = 2e-7,
                            .why = "the probe of 1e-5 m",
                            .pin = pins[k]});
    CHECK(std::abs(found[1] - rows[k].least) < 1e-7);
  }
  // Numbers on by one place: the error is turned by 30 degrees while it grows.
  const Eigen::Matrix2d cyclic = left({.moves = {1, 2, 0}}) / std::sqrt(3.0);
  const double angle = std::abs(std::atan2(cyclic(1, 0), cyclic(0, 0)));
  CHECK(base::deg_from_rad(angle) == doctest::Approx(30.0).epsilon(1e-6));
}

TEST_CASE("threads have the pitches of the standard") {
  const auto pitch_mm = [](const std::string& name) {
    for (const auto& thread : align::metric_threads()) {
      if (name == thread.name) return base::mm_from_m(thread.pitch_m);
    }
    return 0.0;
  };
  const std::vector<std::pair<std::string, double>> standard{
      {"M3", 0.5},        {"M4", 0.7},      {"M5", 0.8},      {"M6", 1.0},
      {"M8", 1.25},       {"M10", 1.5},     {"M12", 1.75},    {"M8x1", 1.0},
      {"M10x1.25", 1.25}, {"M12x1.5", 1.5}, {"M6x0.75", 0.75}};
  for (const auto& row : standard) {
    support::check_outside({.what = "pitch of " + row.first + ", mm",
                            .source = "ISO 261:1998, table 2, and the selection ISO 262",
                            .outside = row.second,
                            .ours = pitch_mm(row.first),
                            .tolerance = 1e-15 * row.second,
                            .why = "exact, but for the unit",
                            .pin = row.second});
  }
}
