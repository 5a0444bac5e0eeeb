// Phases against an outside transform, and places of the screen from rendered photographs.
#include "photo/read_fringes.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "photo/fringe_sheet.h"
#include "photo/places_in_view.h"
#include "support/look_back_scene.h"
#include "support/photo_scene.h"
#include "support/says.h"

namespace {

using base::Vec2;
using base::Vec3;
using photo::FringeFault;
using support::LookBackScene;

/// Rings 1 to 3 of hexagons on the paraboloid of f = 2 m, each tilted by some milliradians more
/// than sends the axis to the focus.
std::vector<support::DrawnMirror> mirrors(double tilt_rad, double radius_m) {
  std::vector<support::DrawnMirror> list;
  for (int q = -3; q <= 3; ++q) {
    for (int r = -3; r <= 3; ++r) {
      if (std::abs(q + r) > 3 || (q == 0 && r == 0)) continue;
      const Vec2 place{0.25 * (q + 0.5 * r), 0.25 * std::sqrt(0.75) * r};
      const auto number = static_cast<std::uint32_t>(list.size());
      Vec3 normal{-place.x / 4.0, -place.y / 4.0, 1.0};
      normal.x += tilt_rad * support::seeded_normal(3, number, 0);
      normal.y += tilt_rad * support::seeded_normal(3, number, 1);
      list.push_back({.centre_m = {place.x, place.y, glm::dot(place, place) / 8.0},
                      .normal = base::unit(normal),
                      .radius_m = radius_m,
                      .reflectance = 0.65 + 0.3 * support::seeded_even(4, number, 2)});
    }
  }
  return list;
}

LookBackScene scene_of(double tilt_rad, double radius_m = 4.0) {
  LookBackScene scene;
  scene.mirrors = mirrors(tilt_rad, radius_m);
  scene.camera_m = {0.35, -0.2, 30.0};
  scene.roll_turns = 0.02;
  return scene;
}

std::vector<photo::FringePlace> true_places(const LookBackScene& scene) {
  std::vector<photo::FringePlace> places;
  for (const auto& mirror : scene.mirrors) {
    places.push_back({.image_px = support::seen_at(scene, mirror.centre_m),
                      .radius_px = 0.115 * scene.focal_px / 30.0});
  }
  return places;
}

std::vector<std::string> names() {
  return {"one", "two", "three", "four", "five", "six", "seven", "eight"};
}

photo::FringeReadings read(const LookBackScene& scene,
                           const std::vector<photo::FringePlace>& places) {
  const auto readings = photo::read_fringes(support::photographed(scene), names(),
                                            {scene.screen_width_m, scene.screen_height_m}, places);
  if (!readings) FAIL(base::to_text(readings.problems()));
  return readings.value();
}

/// Distances of readings from what brute force says, and how they compare with what is claimed.
struct Misses {
  std::size_t read = 0;
  double rms_m = 0.0;  ///< both axes together
  double most_m = 0.0;
  double chi2 = 0.0;  ///< mean squared error per axis over the claimed variance
};

Misses misses_of(const LookBackScene& scene, const photo::FringeReadings& readings) {
  Misses misses;
  for (std::size_t k = 0; k < scene.mirrors.size(); ++k) {
    const photo::FringeReading& one = readings.places[k];
    if (one.fault != FringeFault::none) continue;
    const Vec2 off = one.screen_m - support::shown_by(scene, scene.mirrors[k]);
    ++misses.read;
    misses.rms_m += glm::dot(off, off);
    misses.most_m = std::max(misses.most_m, glm::length(off));
    const Vec2 ratio = off / one.sigma_m;
    misses.chi2 += 0.5 * glm::dot(ratio, ratio);
  }
  const auto count = static_cast<double>(std::max<std::size_t>(misses.read, 1));
  misses.rms_m = std::sqrt(misses.rms_m / count);
  misses.chi2 /= count;
  return misses;
}

}  // namespace

TEST_CASE("four steps agree with the first harmonic of a discrete Fourier transform") {
  // Source: numpy.fft.fft of NumPy 1.24.2 on the four numbers: angle(F[1]) / 2 pi, |F[1]| / 2 and
  // F[0] / 4. Tolerance: rounding. Difference today: below 1e-15.
  struct Row {
    std::array<double, 4> light;
    double turns, swing, mean;
  };
  const Row rows[] = {
      {{0.31, 0.22, 0.47, 0.56}, 0.3200031212374307, 0.18788294228055938, 0.39},
      {{0.10, 0.40, 0.35, 0.05}, -0.3487157716443733, 0.21505813167606566, 0.225},
      {{0.62, 0.61, 0.18, 0.19}, -0.12129938929480656, 0.30413812651491096, 0.4},
      {{0.052, 0.051, 0.049, 0.0505}, -0.026284228355626417, 0.0015206906325745523, 0.050625}};
  for (const Row& row : rows) {
    const photo::FourSteps four = photo::read_four(row.light);
    CHECK(four.phase_turns == doctest::Approx(row.turns).epsilon(1e-13));
    CHECK(four.swing == doctest::Approx(row.swing).epsilon(1e-13));
    CHECK(four.mean == doctest::Approx(row.mean).epsilon(1e-13));
  }
}

TEST_CASE("a place of the screen comes back from its eight lights, whatever dims or adds to them") {
  const photo::Screen screen{0.344, 0.194};
  for (const Vec2& place :
       {Vec2{0.0, 0.0}, Vec2{-0.172, 0.097}, Vec2{0.171, -0.0969}, Vec2{0.05, 0.06}}) {
    std::array<double, 4> across{};
    std::array<double, 4> up{};
    for (std::size_t k = 0; k < 4; ++k) {
      across[k] = 0.3 * photo::fringe_light(screen, k, place) + 0.11;
      up[k] = 0.3 * photo::fringe_light(screen, k + 4, place) + 0.11;
      CHECK(photo::fringe_light(screen, k, place) >= 0.05 - 1e-12);
      CHECK(photo::fringe_light(screen, k, place) <= 0.95 + 1e-12);
    }
    const Vec2 wave = photo::wave_m(screen);
    CHECK(photo::read_four(across).phase_turns * wave.x == doctest::Approx(place.x).epsilon(1e-12));
    CHECK(photo::read_four(up).phase_turns * wave.y == doctest::Approx(place.y).epsilon(1e-12));
  }
}

TEST_CASE("noise moves a phase by its share of the swing over the root of two") {
  // Source: Creath 1988 (see photo/fringes.h); NumPy 1.24.2 on 200000 draws gave 0.03528 where the
  // formula says 0.03536. Tolerance: 3 sd of the spread of 20000 draws, 1.5 %.
  double sum = 0.0;
  constexpr std::uint32_t k_draws = 20000;
  for (std::uint32_t k = 0; k < k_draws; ++k) {
    std::array<double, 4> light{};
    for (std::uint32_t step = 0; step < 4; ++step) {
      light[step] = 0.4 + 0.2 * std::cos(0.7 + 1.5707963267948966 * step) +
                    0.01 * support::seeded_normal(9, k, step);
    }
    sum += base::square(6.283185307179586 * photo::read_four(light).phase_turns - 0.7);
  }
  CHECK(std::sqrt(sum / k_draws) == doctest::Approx(0.01 / (0.2 * std::sqrt(2.0))).epsilon(0.015));
}

TEST_CASE("rendered photos give every facet's place of the screen well below a millimetre") {
  const LookBackScene scene = scene_of(0.003);
  const auto readings = read(scene, true_places(scene));
  const Misses misses = misses_of(scene, readings);
  CHECK(misses.read == 36);
  // Design: 2 to 4 mm are expected of a look back.
  CHECK(misses.rms_m < 0.5e-3);
  CHECK(misses.most_m < 1.2e-3);
  CHECK(misses.chi2 < 1.5);
}

TEST_CASE("a bent tone curve stays within what is claimed") {
  for (const double bend : {0.83, 1.2}) {
    LookBackScene scene = scene_of(0.003);
    scene.bend = bend;
    const Misses misses = misses_of(scene, read(scene, true_places(scene)));
    CHECK(misses.read == 36);
    CHECK(misses.most_m < 2.0e-3);
    CHECK(misses.chi2 < 2.0);
  }
}

TEST_CASE("an exposure that wanders is told, and widens what is claimed") {
  LookBackScene scene = scene_of(0.003);
  scene.flicker = 0.06;
  const auto readings = read(scene, true_places(scene));
  const Misses misses = misses_of(scene, readings);
  CHECK(readings.change > 0.01);
  CHECK(misses.read > 30);
  // One exposure moves all facets alike, so the claim holds in the mean over many sets only.
  CHECK(misses.chi2 < 4.0);
  CHECK(read(scene_of(0.003), true_places(scene)).change < 0.005);
}

TEST_CASE("small facets in a wide view are still read to a millimetre or two") {
  LookBackScene scene = scene_of(0.003);
  scene.focal_px = 1500.0;
  scene.width = scene.height = 160;
  const Misses misses = misses_of(scene, read(scene, true_places(scene)));
  CHECK(misses.read == 36);
  CHECK(misses.rms_m < 1.5e-3);
  CHECK(misses.most_m < 4e-3);
}

TEST_CASE("a flat facet's reading is as uncertain as the place it is read at") {
  LookBackScene scene = scene_of(0.001, 0.0);
  scene.screen_width_m = 0.6;
  scene.screen_height_m = 0.6;
  scene.screen_m.z = 1.7;
  auto places = true_places(scene);
  for (std::size_t k = 0; k < places.size(); ++k) {
    const auto number = static_cast<std::uint32_t>(k);
    places[k].sigma_px = 1.5;
    places[k].image_px +=
        1.5 * Vec2(support::seeded_normal(5, number, 0), support::seeded_normal(5, number, 1));
  }
  const Misses misses = misses_of(scene, read(scene, places));
  CHECK(misses.read >= 20);
  // One pixel is 3.3 mm on the facet, and a flat mirror shows 3.3 mm more of the screen.
  CHECK(misses.rms_m > 2e-3);
  CHECK(misses.chi2 < 1.6);
  CHECK(misses.chi2 > 0.4);
}

TEST_CASE("what cannot be read is told apart") {
  LookBackScene scene = scene_of(0.0);
  scene.mirrors[0].normal = base::unit(scene.mirrors[0].normal + Vec3(0.08, 0.0, 0.0));
  auto places = true_places(scene);
  places[1].image_px = {5.0, 300.0};
  places[2].radius_px = 1.0;
  auto readings = read(scene, places);
  CHECK(readings.places[0].fault == FringeFault::no_fringes);
  CHECK(readings.places[1].fault == FringeFault::outside);
  CHECK(readings.places[2].fault == FringeFault::too_small);
  CHECK(readings.places[3].fault == FringeFault::none);

  scene.screen_light = 3.0;
  readings = read(scene, true_places(scene));
  CHECK(readings.places[3].fault == FringeFault::too_bright);

  scene.screen_light = 0.004;
  scene.daylight = 0.3;
  readings = read(scene, true_places(scene));
  CHECK(readings.places[3].fault == FringeFault::no_fringes);
}

TEST_CASE("photos in another order, of another number or size are refused in words") {
  const LookBackScene scene = scene_of(0.003);
  auto photos = support::photographed(scene);
  const photo::Screen screen{scene.screen_width_m, scene.screen_height_m};
  const auto places = true_places(scene);
  std::swap(photos[0], photos[1]);
  const auto swapped = photo::read_fringes(photos, names(), screen, places);
  REQUIRE(swapped.ok());
  std::size_t unsteady = 0;
  for (const auto& one : swapped.value().places) unsteady += one.fault == FringeFault::unsteady;
  CHECK(unsteady > 18);

  photos.pop_back();
  auto refused = photo::read_fringes(photos, names(), screen, places);
  REQUIRE_FALSE(refused.ok());
  CHECK(support::says(base::to_text(refused.problems()), "eight"));
  LookBackScene other = scene;
  other.width = 600;
  photos.push_back(support::photographed(other).front());
  refused = photo::read_fringes(photos, names(), screen, places);
  REQUIRE_FALSE(refused.ok());
  CHECK(support::says(base::to_text(refused.problems()), "eight: 600 x 640 pixels"));
}

TEST_CASE("five facets pointed at tell where all others are, to the pointing") {
  const LookBackScene scene = scene_of(0.0);
  const auto plane = [&](std::size_t k) {
    const Vec3& c = scene.mirrors[k].centre_m;
    const Vec3 p =
        scene.camera_m + (c - scene.camera_m) * (scene.camera_m.z / (scene.camera_m.z - c.z));
    return Vec2{p.x, p.y};
  };
  std::vector<photo::MarkPair> pointed;
  for (const std::size_t k : {0UL, 3UL, 15UL, 32UL, 35UL}) {
    pointed.push_back({support::seen_at(scene, scene.mirrors[k].centre_m), plane(k)});
  }
  auto view = photo::view_of_places(pointed);
  REQUIRE(view.ok());
  CHECK(view.value().residual_px < 1e-6);
  for (std::size_t k = 0; k < scene.mirrors.size(); ++k) {
    const auto at = photo::place_in_photo(view.value(), plane(k));
    REQUIRE(at);
    CHECK(glm::distance(*at, support::seen_at(scene, scene.mirrors[k].centre_m)) < 1e-6);
  }
  CHECK(photo::px_per_m_at(view.value(), {0.0, 0.0}) == doctest::Approx(300.0).epsilon(0.002));

  // Told to about the pointing between them, and worse beyond.
  CHECK(photo::sigma_px_at(view.value(), {0.0, 0.0}) < 1.2);
  CHECK(photo::sigma_px_at(view.value(), {2.0, 2.0}) > 3.0);

  // A click beside its facet is the one that is told.
  pointed[2].image_px += Vec2(30.0, -20.0);
  pointed.push_back({support::seen_at(scene, scene.mirrors[20].centre_m), plane(20)});
  pointed.push_back({support::seen_at(scene, scene.mirrors[8].centre_m), plane(8)});
  view = photo::view_of_places(pointed);
  REQUIRE(view.ok());
  REQUIRE(view.value().worst);
  CHECK(*view.value().worst == 2);
  CHECK(view.value().worst_px > 10.0);
}

TEST_CASE("too few facets, facets in a line and mirrored ones are refused in words") {
  const auto refused = [](const std::vector<photo::MarkPair>& pointed) {
    const auto view = photo::view_of_places(pointed);
    return view ? std::string("taken") : base::to_text(view.problems());
  };
  CHECK(support::says(refused({{{10, 10}, {0, 1}}, {{20, 10}, {1, 1}}, {{20, 20}, {1, 0}}}),
                      "facets pointed at: 3"));
  CHECK(support::says(
      refused({{{10, 10}, {0, 0}}, {{20, 10}, {1, 0}}, {{30, 10}, {2, 0}}, {{40, 10}, {3, 0}}}),
      "in a line"));
  CHECK(support::says(
      refused({{{10, 10}, {1, 1}}, {{20, 10}, {0, 1}}, {{20, 20}, {0, 0}}, {{10, 20}, {1, 0}}}),
      "mirrored"));
}

TEST_CASE("the page for the screen holds the wave's numbers and nothing from the network") {
  const std::string page = photo::fringe_sheet({0.344, 0.194});
  CHECK(support::says(page, "const steps = 4, mean = 0.5, swing = 0.45, waveShown = 0.75;"));
  CHECK(support::says(page, "344 mm wide and 194 mm high"));
  CHECK(page.find("http") == std::string::npos);
  CHECK(page.find("src=") == std::string::npos);
  CHECK(photo::check(photo::Screen{0.344, 0.194}).empty());
  CHECK(photo::check(photo::Screen{0.02, 20.0}).size() == 2);
}
