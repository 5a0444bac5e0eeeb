// Suns of every shape: published integrals, and draws that follow them. Sources, tolerances and
// their reasons stand beside the numbers in references/optics/suns.h.
#include "optics/sun_profile.h"

#include <cmath>

#include "base/elementary.h"
#include "base/units.h"
#include "light_scenes.h"
#include "references/optics/suns.h"
#include "support/figures.h"

#include <doctest/doctest.h>

namespace {

using optics::SunProfile;

SunProfile profile_of(const dish::SunShape& shape, double half_angle_rad = 0.00465) {
  return optics::make_sun_profile({.half_angle_rad = half_angle_rad, .shape = shape});
}

/// The table's sun of chi: one that asks for the ratio which chi comes to.
SunProfile buie_profile(double chi) {
  return profile_of(dish::CircumsolarSun{optics::buie_ratio(chi)});
}

/// Light within a distance of evenly drawn rays.
double drawn_within(const SunProfile& profile, double sine) {
  constexpr int draws = 100000;
  int within = 0;
  for (int k = 0; k < draws; ++k) within += profile.radius((k + 0.5) / draws) <= sine ? 1 : 0;
  return static_cast<double>(within) / draws;
}

/// Mean over 2 pi s ds by the midpoint rule of what multiplies the brightness.
template <class Weight>
double integral(const SunProfile& profile, Weight weight) {
  constexpr int steps = 400000;
  double sum = 0.0;
  for (int k = 0; k < steps; ++k) {
    const double s = profile.reach_sine * (k + 0.5) / steps;
    sum += radiance(profile, s) * weight(s) * 2.0 * base::k_pi * s;
  }
  return sum * profile.reach_sine / steps;
}

/// A tiny mirror that shows the sun on a board at 1 m.
double traced_within(const dish::SunShape& shape, double radius_m) {
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{2e-6}, dish::Flat{}, 0.0, 1.0);
  dish.sun.shape = shape;
  light_scenes::set_receiver_radius(dish, radius_m);
  return light_scenes::traced(dish, {.rays = 131072, .map_cells = 8}).intercept_factor;
}

}  // namespace

TEST_CASE("the usual half angle is that of the sun from one astronomical unit") {
  CHECK(1e3 * dish::Sun{}.half_angle_rad ==
        doctest::Approx(references::k_sun_half_angle_mrad).epsilon(0.001 / 4.65));
}

TEST_CASE("an even sun closes with the thermodynamic limit, and spreads by half its radius") {
  const SunProfile sun = profile_of(dish::PillboxSun{});
  CHECK(base::k_pi * radiance(sun, 0.0) ==
        doctest::Approx(references::k_full_sky_suns).epsilon(1e-6));
  const double radius = std::sin(0.00465);
  CHECK(std::sqrt(sun.variance) == doctest::Approx(0.5 * radius).epsilon(1e-12));
  CHECK(share_within(sun, 0.5 * radius) == doctest::Approx(0.25).epsilon(1e-12));
  CHECK(sun.radius(0.25) == doctest::Approx(0.5 * radius).epsilon(1e-12));
}

TEST_CASE("limb darkening: mean brightness, spread and shares of the linear law") {
  for (const references::LimbRow& row : references::k_limb) {
    CAPTURE(row.u);
    const SunProfile sun = profile_of(dish::LimbDarkenedSun{row.u});
    const double even = 1.0 / (base::k_pi * sun.disc_sine * sun.disc_sine);
    CHECK(std::abs(even / radiance(sun, 0.0) - row.mean_over_middle) < 6e-6);
    CHECK(std::abs(std::sqrt(sun.variance) / sun.disc_sine - row.sigma_over_radius) < 2e-6);
  }
  const SunProfile sun = profile_of(dish::LimbDarkenedSun{0.61});
  for (const auto& [x, share] : references::k_limb_encircled) {
    CHECK(std::abs(share_within(sun, x * sun.disc_sine) - share) < 1e-6);
    CHECK(sun.radius(share) / sun.disc_sine == doctest::Approx(x).epsilon(1e-5));
    CHECK(std::abs(drawn_within(sun, x * sun.disc_sine) - share) < 2e-5);
    CHECK(std::abs(traced_within(dish::LimbDarkenedSun{0.61}, x * 0.00465) - share) < 1e-3);
  }
}

TEST_CASE("limb darkening of 0.61 is the solar furnaces' sun and near the other measured laws") {
  const SunProfile sun = profile_of(dish::LimbDarkenedSun{0.61});
  const double slope = references::k_furnace_slope;
  for (const double x : {0.2, 0.5, 0.8, 0.95}) {
    const double mu = std::sqrt(1.0 - x * x);
    CHECK(std::abs(radiance(sun, x * sun.disc_sine) / radiance(sun, 0.0) -
                   (1.0 + slope * mu) / (1.0 + slope)) < 1e-4);
  }
  for (const double sigma : references::k_other_limb_sigmas) {
    CHECK(std::sqrt(sun.variance) / sun.disc_sine == doctest::Approx(sigma).epsilon(0.003));
  }
}

// 1.5 %: the flux falls by 0.6 % over the small disc, and counting has an error of 0.2 %.
TEST_CASE("a limb-darkened sun raises the peak at the focus by its middle over its mean") {
  dish::Dish dish = light_scenes::whole_paraboloid(45, 0.001);
  const auto even = light_scenes::traced(dish, {.rays = 1000000, .map_cells = 8, .workers = 2});
  dish.sun.shape = dish::LimbDarkenedSun{0.61};
  const auto dark = light_scenes::traced(dish, {.rays = 1000000, .map_cells = 8, .workers = 2});
  CHECK(dark.mean_concentration / even.mean_concentration ==
        doctest::Approx(references::k_limb_peak_gain).epsilon(0.015));
}

TEST_CASE("the disc of Buie, Monger and Dey") {
  const optics::BuieDisc& disc = optics::BuieDisc::get();
  CHECK(disc.whole() == doctest::Approx(references::k_buie_disc_flux_mrad2).epsilon(1e-8));
  CHECK(std::abs(optics::buie_disc_radiance(4.65) - references::k_buie_at_edge) < 6e-7);
  for (const auto& [theta, brightness, share] : references::k_buie_disc) {
    CHECK(std::abs(optics::buie_disc_radiance(theta) - brightness) < 6e-7);
    CHECK(std::abs(disc.flux(theta) / disc.whole() - share) < 6e-7);
  }
  const SunProfile bare = profile_of(dish::CircumsolarSun{0.0});
  const double scale = 4.65 / bare.disc_sine;
  CHECK(scale * std::sqrt(bare.variance) ==
        doctest::Approx(references::k_buie_disc_sigma_mrad).epsilon(1e-5));
  CHECK(bare.aureole.empty());
}

TEST_CASE("the aureole of Buie, Monger and Dey") {
  for (const references::BuieRow& row : references::k_buie) {
    CAPTURE(row.chi);
    const optics::BuieAureole aureole = optics::buie_aureole(row.chi);
    CHECK(std::abs(aureole.kappa - row.kappa) < 6e-7);
    CHECK(std::abs(aureole.gamma - row.gamma) < 6e-7);
    CHECK(std::abs(optics::buie_aureole_radiance(aureole, 4.65) - row.just_outside) < 6e-7);
    CHECK(std::abs(optics::buie_aureole_flux(aureole, 43.6) - row.aureole_flux_mrad2) < 6e-7);
    CHECK(std::abs(optics::buie_ratio(row.chi) - row.ratio) < 6e-7);
    if (row.sigma_mrad == 0.0) continue;
    const SunProfile sun = buie_profile(row.chi);
    CHECK(4.65 / sun.disc_sine * std::sqrt(sun.variance) ==
          doctest::Approx(row.sigma_mrad).epsilon(1e-5));
  }
}

TEST_CASE("the calibration: the ratio that is asked for is the one that comes out") {
  for (const auto& [ratio, chi] : references::k_buie_chi) {
    CHECK(std::abs(optics::buie_chi(ratio) - chi) < 1e-5);
    const SunProfile sun = profile_of(dish::CircumsolarSun{ratio});
    CHECK(1.0 - share_within(sun, sun.disc_sine) == doctest::Approx(ratio).epsilon(1e-9));
    CHECK(std::abs(1.0 - drawn_within(sun, sun.disc_sine) - ratio) < 2e-5);
  }
}

TEST_CASE("shares of a circumsolar sun within 5, 10 and 20 mrad") {
  for (const auto& [chi, five, ten, twenty] : references::k_buie_encircled) {
    const SunProfile sun = buie_profile(chi);
    const double mrad = sun.disc_sine / 4.65;
    const double shares[] = {five, ten, twenty};
    const double radii[] = {5.0, 10.0, 20.0};
    for (int k = 0; k < 3; ++k) {
      CHECK(std::abs(share_within(sun, radii[k] * mrad) - shares[k]) < 6e-6);
      CHECK(std::abs(drawn_within(sun, radii[k] * mrad) - shares[k]) < 3e-5);
      CHECK(std::abs(traced_within(sun.shape, radii[k] * 1e-3) - shares[k]) < 1e-3);
    }
  }
}

TEST_CASE("a Gaussian sun") {
  const SunProfile sun = profile_of(dish::GaussianSun{0.0028});
  for (const auto& [r, share] : references::k_gaussian_encircled) {
    CHECK(std::abs(share_within(sun, r * 0.0028) - share) < 5e-6);
    CHECK(std::abs(drawn_within(sun, r * 0.0028) - share) < 2e-5);
    CHECK(std::abs(traced_within(sun.shape, r * 0.0028) - share) < 1e-3);
  }
  CHECK(std::sqrt(sun.variance) == doctest::Approx(0.0028).epsilon(5e-5));
}

TEST_CASE("every sun has power one, and its variance is that of its brightness") {
  for (const dish::SunShape& shape :
       {dish::SunShape{dish::LimbDarkenedSun{0.6}}, dish::SunShape{dish::LimbDarkenedSun{1.0}},
        dish::SunShape{dish::GaussianSun{0.0028}}, dish::SunShape{dish::CircumsolarSun{0.001}},
        dish::SunShape{dish::CircumsolarSun{0.05}}, dish::SunShape{dish::CircumsolarSun{0.8}}}) {
    CAPTURE(shape.index());
    const SunProfile sun = profile_of(shape, 0.0047);
    CHECK(integral(sun, [](double) { return 1.0; }) == doctest::Approx(1.0).epsilon(1e-5));
    CHECK(integral(sun, [](double s) { return 0.5 * s * s; }) ==
          doctest::Approx(sun.variance).epsilon(3e-5));
    CHECK(radiance(sun, 1.0001 * sun.reach_sine) == 0.0);
    CHECK(share_within(sun, sun.reach_sine) == 1.0);
  }
}

TEST_CASE("draws rise from the middle to the reach, without a jump at the disc's edge") {
  for (const dish::SunShape& shape :
       {dish::SunShape{dish::LimbDarkenedSun{0.6}}, dish::SunShape{dish::GaussianSun{0.0028}},
        dish::SunShape{dish::CircumsolarSun{1e-6}}, dish::SunShape{dish::CircumsolarSun{0.8}}}) {
    const SunProfile sun = profile_of(shape);
    double before = 0.0;
    double least = 1.0;
    for (int k = 0; k <= 100000; ++k) {
      const double radius = sun.radius(k / 100001.0);
      least = std::min(least, radius - before);
      before = radius;
    }
    CHECK(least >= 0.0);
    CHECK(sun.radius(0.0) == 0.0);
    CHECK(sun.radius(1.0 - 1e-16) <= sun.reach_sine * (1.0 + 1e-7));
  }
  const SunProfile sun = profile_of(dish::CircumsolarSun{0.2});
  support::record_figure("sun/circumsolar/0.2/radius", sun.radius(0.9));
  support::record_figure("sun/circumsolar/0.2/variance", sun.variance);
}
