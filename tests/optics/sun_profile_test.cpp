// Suns of every shape: published integrals, and draws that follow them. Sources, tolerances and
// their reasons stand beside the numbers in references/optics/suns.h.
#include "optics/sun_profile.h"

#include <cmath>

#include <fmt/format.h>

#include "base/elementary.h"
#include "base/units.h"
#include "light_scenes.h"
#include "references/optics/suns.h"
#include "support/figures.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using optics::SunProfile;
using support::check_outside;
using support::OutsideCheck;

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
  check_outside({.what = "half angle of the sun, mrad",
                 .source = references::k_sun_half_angle_source,
                 .outside = references::k_sun_half_angle_mrad,
                 .ours = 1e3 * dish::Sun{}.half_angle_rad,
                 .tolerance = 0.001,
                 .why = "the trade rounds it to 4.65",
                 .pin = 4.65});
}

TEST_CASE("an even sun closes with the thermodynamic limit, and spreads by half its radius") {
  const SunProfile sun = profile_of(dish::PillboxSun{});
  constexpr double pin = 46248.4545049;
  check_outside({.what = "suns of a hemisphere full of sun",
                 .source = references::k_full_sky_source,
                 .outside = references::k_full_sky_suns,
                 .ours = base::k_pi * radiance(sun, 0.0),
                 .tolerance = 1e-6 * references::k_full_sky_suns,
                 .why = support::k_half_digit,
                 .pin = pin});
  const double radius = std::sin(0.00465);
  CHECK(std::sqrt(sun.variance) == doctest::Approx(0.5 * radius).epsilon(1e-12));
  CHECK(share_within(sun, 0.5 * radius) == doctest::Approx(0.25).epsilon(1e-12));
  CHECK(sun.radius(0.25) == doctest::Approx(0.5 * radius).epsilon(1e-12));
}

TEST_CASE("limb darkening: mean brightness, spread and shares of the linear law") {
  constexpr double pins[4][2] = {{0.833333333333, 0.479583248236},
                                 {0.813333333333, 0.47649690321},
                                 {0.8, 0.474341794698},
                                 {0.796666666667, 0.473790178718}};
  constexpr double share_pins[4] = {0.0776961608552, 0.301291529514, 0.638109857502,
                                    0.864711599368};
  for (std::size_t k = 0; k < references::k_limb.size(); ++k) {
    const references::LimbRow& row = references::k_limb[k];
    const SunProfile sun = profile_of(dish::LimbDarkenedSun{row.u});
    const double even = 1.0 / (base::k_pi * sun.disc_sine * sun.disc_sine);
    check_outside({.what = fmt::format("limb darkening of {}, mean over middle", row.u),
                   .source = references::k_limb_source,
                   .outside = row.mean_over_middle,
                   .ours = even / radiance(sun, 0.0),
                   .tolerance = 6e-6,
                   .why = support::k_half_digit,
                   .pin = pins[k][0]});
    check_outside({.what = fmt::format("limb darkening of {}, sigma over radius", row.u),
                   .source = references::k_limb_source,
                   .outside = row.sigma_over_radius,
                   .ours = std::sqrt(sun.variance) / sun.disc_sine,
                   .tolerance = 2e-6,
                   .why = "half a last digit, and the profile's table",
                   .pin = pins[k][1]});
  }
  const SunProfile sun = profile_of(dish::LimbDarkenedSun{0.61});
  for (std::size_t k = 0; k < references::k_limb_encircled.size(); ++k) {
    const auto& [x, share] = references::k_limb_encircled[k];
    check_outside({.what = fmt::format("limb darkening of 0.61, share within {} radii", x),
                   .source = references::k_limb_source,
                   .outside = share,
                   .ours = share_within(sun, x * sun.disc_sine),
                   .tolerance = 1e-6,
                   .why = "half a last digit, and the profile's table",
                   .pin = share_pins[k]});
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
  constexpr double pin = 0.473790178718;
  for (std::size_t k = 0; k < 2; ++k) {
    const double sigma = references::k_other_limb_sigmas[k];
    check_outside({.what = fmt::format("linear law of 0.61 beside a law measured at {} nm, sigma",
                                       550 + 50 * k),
                   .source = references::k_other_limb_sources[k],
                   .outside = sigma,
                   .ours = std::sqrt(sun.variance) / sun.disc_sine,
                   .tolerance = 0.003 * sigma,
                   .why = "the linear law against a measured one",
                   .pin = pin});
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
  constexpr double pins[4][2] = {{0.994112087082, 0.0540441770177},
                                 {0.97387362396, 0.214105412212},
                                 {0.927069224303, 0.472166907453},
                                 {0.793262567657, 0.802681121863}};
  constexpr double whole_pins[3] = {57.96075017, 0.397159259757, 2.22035349164};
  OutsideCheck check{.source = references::k_buie_disc_source, .why = support::k_half_digit};
  for (std::size_t k = 0; k < references::k_buie_disc.size(); ++k) {
    const auto& [theta, brightness, share] = references::k_buie_disc[k];
    check.tolerance = 6e-7;
    check.what = fmt::format("Buie's disc at {} mrad, brightness", theta);
    check.outside = brightness;
    check.ours = optics::buie_disc_radiance(theta);
    check.pin = pins[k][0];
    check_outside(check);
    check.what = fmt::format("Buie's disc at {} mrad, share within", theta);
    check.outside = share;
    check.ours = disc.flux(theta) / disc.whole();
    check.pin = pins[k][1];
    check_outside(check);
  }
  const SunProfile bare = profile_of(dish::CircumsolarSun{0.0});
  const double scale = 4.65 / bare.disc_sine;
  check.what = "Buie's disc, flux, mrad^2";
  check.outside = references::k_buie_disc_flux_mrad2;
  check.ours = disc.whole();
  check.pin = whole_pins[0];
  check_outside(check);
  check.what = "Buie's disc, brightness of its edge";
  check.outside = references::k_buie_at_edge;
  check.ours = optics::buie_disc_radiance(4.65);
  check.pin = whole_pins[1];
  check_outside(check);
  check.what = "Buie's disc, sigma, mrad";
  check.outside = references::k_buie_disc_sigma_mrad;
  check.ours = scale * std::sqrt(bare.variance);
  check.tolerance = 2.2e-5;
  check.why = "1e-5, the profile's table";
  check.pin = whole_pins[2];
  check_outside(check);
  CHECK(bare.aureole.empty());
}

TEST_CASE("the aureole of Buie, Monger and Dey") {
  constexpr double pins[12][2] = {
      {0.0245333703664, 0.000423096497395}, {0.338919095784, 0.00581339654327},
      {0.982059515177, 0.0166612267115},    {2.61280587163, 0.043134430969},
      {6.45925603846, 0.100267858056},      {9.86107907534, 0.145396831449},
      {13.3441117853, 0.187141681778},      {21.9039119535, 0.27426287636},
      {34.4289846988, 0.372649458813},      {53.6221869054, 0.480559020141},
      {83.5832000316, 0.590510579312},      {206.087377689, 0.780491720809}};
  constexpr double sigma_pins[6] = {2.24381294222, 2.47928879603, 3.46903320936,
                                    4.37305321145, 5.46956829664, 7.82831952442};
  std::size_t sigmas = 0;
  for (std::size_t k = 0; k < references::k_buie.size(); ++k) {
    const references::BuieRow& row = references::k_buie[k];
    CAPTURE(row.chi);
    const optics::BuieAureole aureole = optics::buie_aureole(row.chi);
    CHECK(std::abs(aureole.kappa - row.kappa) < 6e-7);
    CHECK(std::abs(aureole.gamma - row.gamma) < 6e-7);
    CHECK(std::abs(optics::buie_aureole_radiance(aureole, 4.65) - row.just_outside) < 6e-7);
    OutsideCheck check{.source = references::k_buie_aureole_source,
                       .tolerance = 6e-7,
                       .why = support::k_half_digit};
    check.what = fmt::format("Buie's aureole of chi {}, flux, mrad^2", row.chi);
    check.outside = row.aureole_flux_mrad2;
    check.ours = optics::buie_aureole_flux(aureole, 43.6);
    check.pin = pins[k][0];
    check_outside(check);
    check.what = fmt::format("Buie's aureole of chi {}, ratio that comes out", row.chi);
    check.outside = row.ratio;
    check.ours = optics::buie_ratio(row.chi);
    check.pin = pins[k][1];
    check_outside(check);
    if (row.sigma_mrad == 0.0) continue;
    const SunProfile sun = buie_profile(row.chi);
    check.what = fmt::format("Buie's aureole of chi {}, sigma of the sun, mrad", row.chi);
    check.outside = row.sigma_mrad;
    check.ours = 4.65 / sun.disc_sine * std::sqrt(sun.variance);
    check.tolerance = 1e-5 * row.sigma_mrad;
    check.why = "the profile's table";
    check.pin = sigma_pins[sigmas++];
    check_outside(check);
  }
}

TEST_CASE("the calibration: the ratio that is asked for is the one that comes out") {
  constexpr double pins[13] = {0.0242895630855, 0.0326348863293, 0.040184425796, 0.0552660147967,
                               0.0997282487062, 0.155439337135,  0.215377736258, 0.273273256786,
                               0.327367137455,  0.425981127923,  0.517574673161, 0.608832542836,
                               0.707291677192};
  for (std::size_t k = 0; k < references::k_buie_chi.size(); ++k) {
    const auto& [ratio, chi] = references::k_buie_chi[k];
    check_outside({.what = fmt::format("Buie's chi for a ratio of {}", ratio),
                   .source = references::k_buie_chi_source,
                   .outside = chi,
                   .ours = optics::buie_chi(ratio),
                   .tolerance = 1e-5,
                   .why = "ten last digits: the source's solver",
                   .pin = pins[k]});
    const SunProfile sun = profile_of(dish::CircumsolarSun{ratio});
    CHECK(1.0 - share_within(sun, sun.disc_sine) == doctest::Approx(ratio).epsilon(1e-9));
    CHECK(std::abs(1.0 - drawn_within(sun, sun.disc_sine) - ratio) < 2e-5);
  }
}

TEST_CASE("shares of a circumsolar sun within 5, 10 and 20 mrad") {
  constexpr double pins[3][3] = {{0.958791197531, 0.975130354334, 0.98827118128},
                                 {0.905115500986, 0.947530080411, 0.97717889073},
                                 {0.823580796299, 0.905780492938, 0.960298007602}};
  for (std::size_t n = 0; n < references::k_buie_encircled.size(); ++n) {
    const auto& [chi, five, ten, twenty] = references::k_buie_encircled[n];
    const SunProfile sun = buie_profile(chi);
    const double mrad = sun.disc_sine / 4.65;
    const double shares[] = {five, ten, twenty};
    const double radii[] = {5.0, 10.0, 20.0};
    for (int k = 0; k < 3; ++k) {
      check_outside(
          {.what = fmt::format("circumsolar sun of chi {}, within {} mrad", chi, radii[k]),
           .source = references::k_buie_encircled_source,
           .outside = shares[k],
           .ours = share_within(sun, radii[k] * mrad),
           .tolerance = 6e-6,
           .why = support::k_half_digit,
           .pin = pins[n][k]});
      CHECK(std::abs(drawn_within(sun, radii[k] * mrad) - shares[k]) < 3e-5);
      CHECK(std::abs(traced_within(sun.shape, radii[k] * 1e-3) - shares[k]) < 1e-3);
    }
  }
}

TEST_CASE("a Gaussian sun") {
  const SunProfile sun = profile_of(dish::GaussianSun{0.0028});
  constexpr double pins[5] = {0.500001850078, 0.80000313276, 0.900003348359, 0.950003561056,
                              0.990003681547};
  for (std::size_t k = 0; k < references::k_gaussian_encircled.size(); ++k) {
    const auto& [r, share] = references::k_gaussian_encircled[k];
    check_outside({.what = fmt::format("Gaussian sun, share within {} sigma", r),
                   .source = references::k_gaussian_encircled_source,
                   .outside = share,
                   .ours = share_within(sun, r * 0.0028),
                   .tolerance = 5e-6,
                   .why = "the profile ends at five sigma",
                   .pin = pins[k]});
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
