// From marks to board places: exact views, the lens, and uncertainties that keep their word.
#include "photo/rectify.h"

#include <doctest/doctest.h>

#include <Eigen/Dense>
#include <cmath>

#include "photo/homography.h"
#include "support/figures.h"
#include "support/outside.h"
#include "support/photo_scene.h"
#include "support/says.h"
#include "support/seeded.h"

namespace {

using base::Vec2;
using photo::Board;
using photo::SeenMark;
using support::PhotoScene;

PhotoScene slanted(double k1) {
  PhotoScene scene;
  scene.camera_m = {0.25, -0.2, 0.6};
  scene.k1 = k1;
  return scene;
}

/// Where the scene shows the marks' middles, with noise.
std::vector<SeenMark> marks_in(const PhotoScene& scene, std::size_t step, double sigma_px,
                               std::uint32_t seed) {
  std::vector<SeenMark> seen;
  const auto marks = photo::marks_of(scene.board);
  for (std::size_t k = 0; k < marks.size(); k += step) {
    const auto number = static_cast<std::uint32_t>(k);
    const Vec2 noise{support::seeded_normal(seed, number, 0),
                     support::seeded_normal(seed, number, 1)};
    seen.push_back({k, support::seen_at(scene, marks[k].place_m) + sigma_px * noise,
                    std::max(sigma_px, 0.01), 0.0});
  }
  return seen;
}

photo::Rectification view_of(const PhotoScene& scene, const std::vector<SeenMark>& marks) {
  const auto view =
      photo::rectify(marks, scene.board, Vec2(scene.width, scene.height), "photo", scene.focal_px);
  if (!view) FAIL(base::to_text(view.problems()));
  return view.value();
}

using Long = Eigen::Matrix<long double, Eigen::Dynamic, Eigen::Dynamic>;

/// Homogeneous least squares without normalisation, in long double, by a library's SVD.
Eigen::Matrix<long double, 3, 3> independent_map(const std::vector<photo::MarkPair>& marks) {
  Long a = Long::Zero(2 * static_cast<Eigen::Index>(marks.size()), 9);
  for (std::size_t k = 0; k < marks.size(); ++k) {
    const long double x = marks[k].image_px.x;
    const long double y = marks[k].image_px.y;
    const long double u = marks[k].board_m.x;
    const long double v = marks[k].board_m.y;
    const auto row = static_cast<Eigen::Index>(2 * k);
    a.row(row) << x, y, 1.0L, 0.0L, 0.0L, 0.0L, -u * x, -u * y, -u;
    a.row(row + 1) << 0.0L, 0.0L, 0.0L, x, y, 1.0L, -v * x, -v * y, -v;
  }
  const Eigen::JacobiSVD<Long> svd(a, Eigen::ComputeFullV);
  Eigen::Matrix<long double, 3, 3> map;
  for (Eigen::Index k = 0; k < 9; ++k) map(k / 3, k % 3) = svd.matrixV()(k, 8);
  return map / map(2, 2);
}

}  // namespace

TEST_CASE("P5's four marks: our map, the case's numbers and a library's singular vector agree") {
  // Worked case P5 (shared by tests/align/cases_test.cpp), board in mm.
  const std::vector<photo::MarkPair> marks{{{412.3, 288.7}, {-0.3, 0.3}},
                                           {{1510.8, 341.2}, {0.3, 0.3}},
                                           {{1448.1, 1265.4}, {0.3, -0.3}},
                                           {{365.9, 1187.6}, {-0.3, -0.3}}};
  const auto ours = photo::homography_through(marks);
  REQUIRE(ours.ok());
  const auto theirs = independent_map(marks);
  constexpr double pins[2] = {-0.541386724827, 0.478060927621};
  for (int row = 0; row < 2; ++row) {
    support::check_outside({.what = "P5's map, shift of axis " + std::to_string(row) + ", m",
                            .source = "Eigen 3.4, JacobiSVD in long double: homography",
                            .outside = static_cast<double>(theirs(row, 2)),
                            .ours = ours.value().board_from_image[2][row],
                            .tolerance = 1e-11,
                            .why = "double's rounding through 1e3 px",
                            .pin = pins[row]});
  }
  for (int row = 0; row < 3; ++row) {
    for (int column = 0; column < 3; ++column) {
      const double value = static_cast<double>(theirs(row, column));
      CHECK(ours.value().board_from_image[column][row] == doctest::Approx(value).epsilon(1e-9));
    }
  }
  const auto place = photo::to_board(ours.value(), {900.0, 700.0});
  REQUIRE(place.has_value());
  CHECK(glm::distance(*place, {-0.016797127691392, 0.047066905220258}) < 1e-12);
}

TEST_CASE("a quick map through four and the general one are the same") {
  support::Seeded random(3);
  for (int trial = 0; trial < 50; ++trial) {
    std::array<Vec2, 4> from{{{-1.0, 1.0}, {1.0, 1.0}, {1.0, -1.0}, {-1.0, -1.0}}};
    std::array<Vec2, 4> to{};
    std::vector<photo::MarkPair> pairs;
    for (std::size_t k = 0; k < 4; ++k) {
      to[k] = {500.0 + 300.0 * from[k].x + random(-90.0, 90.0),
               400.0 - 300.0 * from[k].y + random(-90.0, 90.0)};
      pairs.push_back({to[k], from[k]});
    }
    const auto map = photo::map_through_four(to, from);
    const auto general = photo::homography_through(pairs);
    REQUIRE(map.has_value());
    REQUIRE(general.ok());
    const Vec2 somewhere{random(300.0, 700.0), random(200.0, 600.0)};
    const auto a = photo::mapped(*map, somewhere);
    const auto b = photo::to_board(general.value(), somewhere);
    REQUIRE(a.has_value());
    REQUIRE(b.has_value());
    CHECK(glm::distance(*a, *b) < 1e-11);
  }
  const std::array<Vec2, 4> line{{{0.0, 0.0}, {1.0, 1.0}, {2.0, 2.0}, {0.0, 5.0}}};
  CHECK(!photo::map_through_four(line, line).has_value());
}

TEST_CASE("exact marks give exact places, with four and with eight, both ways") {
  for (const bool eight : {false, true}) {
    CAPTURE(eight);
    const PhotoScene scene = slanted(eight ? -0.03 : 0.0);
    const auto view = view_of(scene, marks_in(scene, eight ? 1 : 2, 0.0, 1));
    CHECK(view.k1_is_fitted == eight);
    // The fit holds 0 +- 0.03 against the marks' 0.01 px, which pulls k1 by 3e-6.
    CHECK(std::abs(view.k1() - scene.k1) < 1e-5);
    support::Seeded random(4);
    for (int k = 0; k < 40; ++k) {
      const Vec2 place{random(-0.2, 0.2), random(-0.2, 0.2)};
      const Vec2 seen = support::seen_at(scene, place);
      const auto found = photo::to_board(view, seen);
      const auto back = photo::to_image(view, place);
      REQUIRE(found.has_value());
      REQUIRE(back.has_value());
      CHECK(glm::distance(*found, place) < 2e-7);
      CHECK(glm::distance(*back, seen) < 5e-4);
      const auto again = photo::to_board(view, *back);
      REQUIRE(again.has_value());
      CHECK(glm::distance(*again, place) < 1e-12);
    }
  }
}

TEST_CASE("what four marks leave of a lens's bend is what the closed form says") {
  // Face on, corners at rho focal lengths: the map takes up k1 rho^2, a place at r keeps
  // k1 r (rho^2 - r^2), at most 2 / (3 sqrt 3) k1 rho^3, at r = rho / sqrt 3. On a board whose
  // half diagonal is 424.3 mm with k1 = -0.01: 0.07, 0.15, 0.26, 0.41 mm at rho = 0.2 ... 0.5
  // (alignment design 7.3, derived). Second order in k1 rho^2: 1 % allowed.
  constexpr double k_half_m = 0.3;
  for (const double rho : {0.2, 0.3, 0.4, 0.5}) {
    CAPTURE(rho);
    PhotoScene scene;
    scene.board = {0.63, 0.63, 0.02};
    scene.k1 = -0.01;
    scene.camera_m = {0.0, 0.0, k_half_m * std::sqrt(2.0) / rho};
    const auto view = view_of(scene, marks_in(scene, 2, 0.0, 1));
    double most = 0.0;
    for (int k = 1; k < 100; ++k) {
      const Vec2 place = Vec2(0.01 * k * k_half_m);
      const auto found = photo::to_board(view, support::seen_at(scene, place));
      REQUIRE(found.has_value());
      most = std::max(most, glm::distance(*found, place));
    }
    const double expected = 2.0 / (3.0 * std::sqrt(3.0)) * 0.01 * rho * rho * 0.4243;
    CHECK(most == doctest::Approx(expected).epsilon(0.02));
    support::record_figure("photo/left_of_k1_" + std::to_string(rho), most);
  }
}

TEST_CASE("noise of the marks spreads over the board as measured, and sigma_at tells it") {
  // Alignment design 7.3 [D]: 1 px on every mark is 0.7 px in the middle, about 1.0 at a mark (4
  // marks, face on). 400 trials know these to 4 %.
  PhotoScene scene;
  const auto marks = photo::marks_of(scene.board);
  const double scale = scene.focal_px / scene.camera_m.z;
  const Vec2 places[] = {{0.0, 0.0}, marks[0].place_m};
  const double expected_px[] = {0.71, 1.0};
  for (std::size_t which = 0; which < 2; ++which) {
    CAPTURE(which);
    const Vec2 place = places[which];
    const Vec2 seen = support::seen_at(scene, place);
    double squares = 0.0;
    double claimed = 0.0;
    for (std::uint32_t trial = 0; trial < 400; ++trial) {
      const auto view = view_of(scene, marks_in(scene, 2, 1.0, trial));
      const auto found = photo::to_board(view, seen);
      REQUIRE(found.has_value());
      squares += 0.5 * glm::dot(*found - place, *found - place) / 400.0;
      claimed += photo::sigma_at(view, place) / 400.0;
    }
    CHECK(std::sqrt(squares) * scale == doctest::Approx(expected_px[which]).epsilon(0.08));
    // What is claimed covers an unknown lens beside the noise: never less than what happens.
    CHECK(claimed > 0.93 * std::sqrt(squares));
    CHECK(claimed < 1.35 * std::sqrt(squares));
  }
}

TEST_CASE("eight noisy marks of a bent view: uncertainties keep their word") {
  const PhotoScene scene = slanted(-0.02);
  double chi2 = 0.0;
  double k1_squares = 0.0;
  double k1_claimed = 0.0;
  constexpr int k_trials = 300;
  for (std::uint32_t trial = 0; trial < k_trials; ++trial) {
    const auto view = view_of(scene, marks_in(scene, 1, 0.3, trial));
    const Vec2 place{0.12, -0.08};
    const auto found = photo::to_board(view, support::seen_at(scene, place));
    REQUIRE(found.has_value());
    const double sigma = photo::sigma_at(view, place);
    chi2 += 0.5 * glm::dot(*found - place, *found - place) / (sigma * sigma) / k_trials;
    k1_squares += base::square(view.k1() - scene.k1) / k_trials;
    k1_claimed += std::sqrt(view.covariance[80]) / k_trials;
  }
  CHECK(chi2 > 0.6);
  CHECK(chi2 < 1.2);
  CHECK(std::sqrt(k1_squares) < 1.2 * k1_claimed);
  CHECK(std::sqrt(k1_squares) > 0.6 * k1_claimed);
}

TEST_CASE("a mark's ellipse and its middle: large marks seen aslant are not biased") {
  // The exact middle of a projected circle, found by sampling its image, differs from the image of
  // its middle by 0.3 px here; given the radius the fit takes that into account.
  PhotoScene scene = slanted(0.0);
  scene.board.mark_m = 0.07;
  std::vector<SeenMark> seen;
  const auto marks = photo::marks_of(scene.board);
  double largest = 0.0;
  for (std::size_t k = 0; k < marks.size(); ++k) {
    // The area's middle, by Green's theorem over a polygon of the outline.
    Vec2 first(0.0);
    double area = 0.0;
    constexpr int k_corners = 2000;
    const auto corner = [&](int j) {
      const double angle = 2.0 * 3.14159265358979323846 * j / k_corners;
      return support::seen_at(scene,
                              marks[k].place_m + 0.035 * Vec2{std::cos(angle), std::sin(angle)});
    };
    for (int j = 0; j < k_corners; ++j) {
      const Vec2 a = corner(j);
      const Vec2 b = corner(j + 1);
      const double part = base::cross(a, b);
      area += part / 2.0;
      first += (a + b) * (part / 6.0);
    }
    const Vec2 middle = first / area;
    largest = std::max(largest, glm::distance(middle, support::seen_at(scene, marks[k].place_m)));
    seen.push_back({k, middle, 0.01, 0.035});
  }
  CHECK(largest > 0.3);
  const auto view = view_of(scene, seen);
  for (const Vec2& residual : view.residuals_px) CHECK(glm::length(residual) < 1e-4);
  const auto place = photo::to_board(view, support::seen_at(scene, {0.1, 0.05}));
  REQUIRE(place.has_value());
  CHECK(glm::distance(*place, {0.1, 0.05}) < 1e-6);
}

TEST_CASE("one mark in the wrong place is left out, with its name") {
  const PhotoScene scene = slanted(0.0);
  auto marks = marks_in(scene, 1, 0.05, 2);
  marks[5].image_px += Vec2{4.0, -3.0};
  const auto view = view_of(scene, marks);
  CHECK(view.marks.size() == 7);
  REQUIRE(view.notes.size() == 1);
  CHECK(support::says(view.notes.front(), "the mark bottom was left out"));
}

TEST_CASE("marks that fit no view are refused in words") {
  const PhotoScene scene = slanted(0.0);
  auto marks = marks_in(scene, 2, 0.0, 1);
  std::swap(marks[0].image_px, marks[1].image_px);
  const auto crossed = photo::rectify(marks, scene.board, Vec2(scene.width, scene.height), "IMG 7");
  REQUIRE(!crossed.ok());
  CHECK(support::says(base::to_text(crossed.problems()), "IMG 7, marks"));
  marks.pop_back();
  const auto three = photo::rectify(marks, scene.board, Vec2(scene.width, scene.height), "IMG 7");
  REQUIRE(!three.ok());
  CHECK(support::says(base::to_text(three.problems()), "at least four marks"));
}
