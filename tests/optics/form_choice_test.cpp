// Forms of facets against closed forms, and choices of forms against what must follow from them.
#include "optics/form_choice.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "base/units.h"
#include "dish/defaults.h"
#include "light_scenes.h"
#include "optics/facet_surface.h"
#include "optics/scene.h"
#include "optics/spot_of_form.h"
#include "references/optics/concentrators.h"
#include "references/optics/forms.h"
#include "support/figures.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using base::Vec3;
using optics::FormKind;
using optics::FormOption;

/// Scene of one facet at an incidence, its aim straight ahead of its light.
struct Oblique {
  dish::Dish dish;
  optics::Scene scene;
};
Oblique oblique(const dish::Outline& outline, double incidence_deg, double distance_m) {
  dish::Dish dish = light_scenes::oblique_facet(outline, dish::Flat{}, incidence_deg, distance_m);
  dish.sun.half_angle_rad = 0.0;
  auto scene = optics::make_scene(dish, {});
  REQUIRE(scene.ok());
  return {dish, std::move(scene).value()};
}

optics::FormChoice chosen(const dish::Dish& dish, const optics::FormSettings& settings = {}) {
  auto choice = optics::choose_forms(dish, settings);
  if (!choice) FAIL(base::to_text(choice.problems()));
  return std::move(choice).value();
}

const FormOption& option(const optics::FormChoice& choice, FormKind kind) {
  const auto found = std::find_if(choice.options.begin(), choice.options.end(),
                                  [&](const FormOption& one) { return one.kind == kind; });
  REQUIRE(found != choice.options.end());
  return *found;
}

/// The best split of few sorted values by trying all.
double brute_cost(const std::vector<double>& values, const std::vector<double>& weights,
                  std::size_t from, int groups) {
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t to = from + 1; to <= values.size(); ++to) {
    if (groups == 1 && to < values.size()) continue;
    double w = 0.0, wx = 0.0, cost = 0.0;
    for (std::size_t k = from; k < to; ++k) {
      w += weights[k];
      wx += weights[k] * values[k];
    }
    for (std::size_t k = from; k < to; ++k) {
      cost += weights[k] * (values[k] - wx / w) * (values[k] - wx / w);
    }
    if (to < values.size()) cost += brute_cost(values, weights, to, groups - 1);
    best = std::min(best, cost);
  }
  return best;
}

}  // namespace

TEST_CASE("the sphere that suits an oblique facet best, and what it leaves") {
  constexpr double pins[4][2] = {{2.00024028647, 0.00620496699356},
                                 {2.00120803606, 0.0139115267986},
                                 {2.00627799001, 0.031054532203},
                                 {2.02073246448, 0.0545570698397}};
  for (std::size_t k = 0; k < references::k_best_spheres.size(); ++k) {
    const auto& [incidence, radius_over_p, rms_over_w] = references::k_best_spheres[k];
    const Oblique at = oblique(dish::Rectangle{0.01, 0.01}, incidence, 1.0);
    const optics::FormSpot spot(at.scene, 0, at.dish.receiver.centre_m);
    const auto fit = optics::fit_curvature(spot, 0.0, 0.5);
    support::OutsideCheck check{.source = references::k_best_spheres_source,
                                .why = "higher terms in w / p at 0.01"};
    check.what = fmt::format("best sphere at {} deg, radius over distance", incidence);
    check.outside = radius_over_p;
    check.ours = 1.0 / fit.curvature_per_m;
    check.tolerance = 2e-4 * radius_over_p;
    check.pin = pins[k][0];
    check.tightness = 1e-7;  // a flat minimum
    support::check_outside(check);
    check.what = fmt::format("best sphere at {} deg, rms left over width", incidence);
    check.outside = rms_over_w;
    check.ours = std::sqrt(fit.mean_square_m2) / 0.01;
    check.tolerance = 2e-3 * rms_over_w;
    check.pin = pins[k][1];
    check.tightness = 1e-9;
    support::check_outside(check);
  }
}

// Source: exact rays of a separate program (k_sphere_off_axis), R = 2p; tolerance 1 % as there.
TEST_CASE("rms of a sphere of twice the distance, by points over its outline") {
  for (const auto& [incidence, along_mm, across_mm] : references::k_sphere_off_axis) {
    const Oblique at = oblique(dish::Rectangle{0.1, 0.1}, incidence, 1.0);
    const optics::FormSpot spot(at.scene, 0, at.dish.receiver.centre_m);
    const double rms = 1e3 * std::sqrt(spot.mean_square(optics::conic_quadric(0.5, 0.0)));
    // About the aim, and coma moves the middle off it: never less than the table.
    CHECK(rms > 0.99 * std::hypot(along_mm, across_mm));
    CHECK(rms < 1.05 * std::hypot(along_mm, across_mm));
  }
}

TEST_CASE("defocus, and a flat mirror's own size") {
  const auto& [width, p, radius, blur_mm] = references::k_defocus;
  // A tenth of the width, so that the sphere's higher terms stay below 0.1 %; blur is in
  // proportion.
  const Oblique at = oblique(dish::Rectangle{0.1 * width, 0.1 * width}, 0.0, p);
  const optics::FormSpot spot(at.scene, 0, at.dish.receiver.centre_m);
  // An even square of side b has an rms radius of b / sqrt 6.
  const double rms = std::sqrt(spot.mean_square(optics::conic_quadric(1.0 / radius, 0.0)));
  CHECK(1e3 * std::sqrt(6.0) * rms == doctest::Approx(0.1 * blur_mm).epsilon(0.001));
  const double flat = std::sqrt(spot.mean_square(optics::flat_quadric()));
  CHECK(std::sqrt(6.0) * flat == doctest::Approx(0.1 * width).epsilon(1e-12));
}

TEST_CASE("sag at the edge of a sphere") {
  const auto& [radius, width, sag_mm] = references::k_sphere_sag;
  dish::Dish dish =
      light_scenes::one_facet(dish::Disc{width}, dish::Spherical{radius}, {0, 0, 0}, {0, 0, 1});
  dish.receiver.centre_m = {0.0, 0.0, 2.0};
  const auto choice = chosen(dish);
  CHECK(std::abs(1e3 * option(choice, FormKind::as_is).most_sag_m - sag_mm) < 5e-6);
  CHECK(option(choice, FormKind::flat).most_sag_m == 0.0);
  CHECK(option(choice, FormKind::flat).moulds == 0);
}

// Source: k_paraboloid_radii and k_flat_frame (references/optics/concentrators.h).
TEST_CASE("pieces of the parent on its own frame have its focal length and curvatures") {
  for (const auto& [r, along, across] : references::k_paraboloid_radii) {
    const Vec3 centre{r, 0.0, 0.25 * r * r};
    const Vec3 normal = base::unit({-0.5 * r, 0.0, 1.0});
    const base::Pose pose{centre, base::frame_of_normal(normal)};
    const auto place = optics::piece_for(pose, {0.0, 0.0, 1.0});
    CHECK(place.piece.focal_length_m == doctest::Approx(1.0).epsilon(1e-14));
    CHECK(*place.piece.off_axis_m == doctest::Approx(r).epsilon(1e-14));
    const double cosine = std::cos(place.incidence_rad);
    CHECK(std::abs(2.0 * place.piece.focal_length_m / cosine - across) < 1e-9);
    CHECK(std::abs(2.0 * place.piece.focal_length_m / std::pow(cosine, 3) - along) < 1e-9);
    // The geometric mean of both radii is twice the distance, exactly.
    CHECK(std::sqrt(along * across) == doctest::Approx(2.0 * place.distance_m).epsilon(1e-9));
  }
}

TEST_CASE("pieces for a flat frame stand off axis by the facet's own radius") {
  for (const auto& [r, tilt_deg, distance] : references::k_flat_frame) {
    dish::Dish dish;
    dish.focal_length_m = 1.5;
    dish.receiver.centre_m = {0.0, 0.0, 1.5};
    dish.facet_types.push_back({.name = {"tile"}, .outline = dish::Rectangle{0.1, 0.1}});
    dish.facets.push_back({.id = {"A1"}, .type = {"tile"}, .centre_m = {r, 0.0, 0.0}});
    const auto forms = optics::best_forms(dish);
    REQUIRE(forms.ok());
    const optics::BestForm& form = forms.value()[0];
    CHECK(std::abs(base::deg_from_rad(form.incidence_rad) - tilt_deg) < 1e-6);
    CHECK(form.distance_m == doctest::Approx(distance).epsilon(1e-6));
    CHECK(*form.piece.off_axis_m == doctest::Approx(r).epsilon(1e-12));
    // The whole facet's light meets in one point, as no sphere's does.
    CHECK(form.piece_rms_m < 1e-9);
    CHECK(form.sphere_rms_m > 1e-6);
    CHECK(form.sphere_rms_m < form.flat_rms_m);
  }
}

TEST_CASE("with a secondary the form gathers light at its near focus, whatever its kind") {
  dish::Dish dish = light_scenes::lattice_with_secondary(3);
  const auto exact = optics::best_forms(dish);
  REQUIRE(exact.ok());
  for (const optics::BestForm& form : exact.value()) {
    CHECK(glm::length(form.focus_m - Vec3(0.0, 0.0, 2.0)) < 1e-12);
    CHECK(form.piece_rms_m < 1e-8);
  }
  // A sphere of the hyperboloid's radius at the vertex: near that focus, and nearly as sharp.
  dish.secondary->form = dish::SphereSecondary{2.0 * 0.4 * 1.3 / (1.3 - 0.4)};
  const auto nearly = optics::best_forms(dish);
  REQUIRE(nearly.ok());
  for (const optics::BestForm& form : nearly.value()) {
    CHECK(glm::length(form.focus_m - Vec3(0.0, 0.0, 2.0)) < 0.2);
    CHECK(form.piece_rms_m < 0.2 * form.flat_rms_m);
  }
}

TEST_CASE("a choice of forms: own pieces beat spheres beat a common one beat flat") {
  dish::Dish dish = light_scenes::lattice(4, true);
  for (dish::FacetType& type : dish.facet_types) {
    type.slope_error_rad = 0.0005;
    type.specularity_error_rad = 0.0;
  }
  const auto choice = chosen(dish, {.most_groups = 3});
  const auto& flat = option(choice, FormKind::flat);
  const auto& common = option(choice, FormKind::common_sphere);
  const auto& groups = option(choice, FormKind::groups);
  const auto& own = option(choice, FormKind::own_sphere);
  const auto& pieces = option(choice, FormKind::own_piece);
  CHECK(pieces.spot_rms_m < own.spot_rms_m);
  CHECK(own.spot_rms_m <= groups.spot_rms_m * (1.0 + 1e-6));
  CHECK(groups.spot_rms_m < common.spot_rms_m);
  CHECK(common.spot_rms_m < 0.5 * flat.spot_rms_m);
  CHECK(common.moulds == 1);
  CHECK(groups.moulds == 2);
  CHECK(own.moulds > 3);
  CHECK(choice.options[choice.recommended].receiver_W >= 0.99 * pieces.receiver_W);
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    // All facets at the same distance from the axis, for the outline's own reasons nearly, share.
    CHECK(choice.facets[k].sphere_radius_m ==
          doctest::Approx(own.radius_m[static_cast<std::size_t>(own.mould[k])]).epsilon(1e-3));
  }
  support::record_figure("optics/form/common_sphere_W", common.receiver_W);
  support::record_figure("optics/form/own_piece_rms_m", pieces.spot_rms_m);
}

TEST_CASE("the common sphere is the best of all common spheres") {
  const dish::Dish dish = light_scenes::lattice(3, true);
  const auto scene = optics::make_scene(dish, {});
  REQUIRE(scene.ok());
  const auto choice = chosen(dish);
  const double radius = option(choice, FormKind::common_sphere).radius_m[0];
  const auto total = [&](double tried) {
    double sum = 0.0;
    for (std::size_t k = 0; k < dish.facets.size(); ++k) {
      const optics::FormSpot spot(scene.value(), k, dish.receiver.centre_m);
      sum += std::cos(choice.facets[k].incidence_rad) *
             spot.mean_square(optics::conic_quadric(1.0 / tried, 0.0));
    }
    return sum;
  };
  CHECK(total(radius) < total(1.005 * radius));
  CHECK(total(radius) < total(0.995 * radius));
}

TEST_CASE("the dish with other surfaces has a type for each, under names of their own") {
  dish::Dish dish = dish::default_dish();
  std::vector<dish::Surface> surfaces(dish.facets.size(), dish::Flat{});
  surfaces[3] = dish::Spherical{4.2};
  surfaces[7] = dish::Spherical{4.2};
  surfaces[8] = dish::Spherical{4.3};
  dish.facet_types.push_back({.name = {"hexagon 2"}});  // taken, though no facet uses it
  const dish::Dish changed = optics::with_surfaces(dish, surfaces);
  REQUIRE(changed.facet_types.size() == 4);
  CHECK(changed.facets[0].type.text == "hexagon");
  CHECK(changed.facets[3].type == changed.facets[7].type);
  CHECK(changed.facets[3].type.text == "hexagon 3");
  CHECK(changed.facets[8].type.text == "hexagon 4");
  CHECK(std::get<dish::Spherical>(dish::find_facet_type(changed, changed.facets[8].type)->surface)
            .radius_m == 4.3);
}

// Source: the split that trying every one finds (exhaustive); exact to rounding.
TEST_CASE("groups of values are the best that can be") {
  std::vector<double> values;
  std::vector<double> weights;
  for (int k = 0; k < 11; ++k) {
    values.push_back(std::fmod(0.37 * k * k + 0.11 * k, 1.0));
    weights.push_back(1.0 + 0.3 * (k % 4));
  }
  for (int groups = 1; groups <= 5; ++groups) {
    const auto found = optics::group_values(values, weights, groups);
    std::vector<std::size_t> order(values.size());
    for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
    std::vector<double> sorted, own;
    for (const std::size_t k : order) {
      sorted.push_back(values[k]);
      own.push_back(weights[k]);
    }
    CHECK(found.cost == doctest::Approx(brute_cost(sorted, own, 0, groups)).epsilon(1e-9));
    CHECK(std::is_sorted(found.centre.begin(), found.centre.end()));
    double cost = 0.0;
    for (std::size_t k = 0; k < values.size(); ++k) {
      const double off = values[k] - found.centre[static_cast<std::size_t>(found.group[k])];
      cost += weights[k] * off * off;
    }
    CHECK(cost == doctest::Approx(found.cost).epsilon(1e-9));
  }
}

TEST_CASE("a search for forms can be stopped, and names what is wrong") {
  const dish::Dish dish = dish::default_dish();
  int asked = 0;
  const auto stopped =
      optics::choose_forms(dish, {}, {.report = {}, .is_cancelled = [&] { return ++asked > 20; }});
  REQUIRE(!stopped.ok());
  CHECK(stopped.problems()[0].place == "cancelled");
  CHECK(!optics::choose_forms(dish, {.most_groups = 0}).ok());
  dish::Dish empty;
  CHECK(optics::choose_forms(empty, {}).problems()[0].place == "facets");
}
