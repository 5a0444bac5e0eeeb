// Each thing that can be wrong with a dish has its own message, and a sound dish has none.
#include <doctest/doctest.h>

#include <limits>
#include <string>

#include "dish/polygon.h"
#include "dish/recipes.h"
#include "found.h"
#include "support/says.h"

namespace {

using dish::Dish;
using dish::Finding;
using dish_test::errors;
using dish_test::lines;

constexpr double k_nan = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("the default dish has neither errors nor doubts") {
  CHECK(dish::check(dish::default_dish()).empty());
  CHECK(dish::errors_of(dish::default_dish()).empty());
}

TEST_CASE("a dish with the default secondary and its receiver at the far focus is sound") {
  Dish dish = dish::default_dish();
  dish.secondary = dish::default_secondary(dish.focal_length_m);
  dish.receiver.centre_m = {0.0, 0.0, 0.1};
  dish.receiver.lit_normal = {0.0, 0.0, 1.0};
  for (const Finding& finding : dish::check(dish)) FAIL(dish::to_line(finding));
}

TEST_CASE("a mount needs exactly three adjusters") {
  CHECK(errors([](Dish& d) { d.mounts[0].adjusters.pop_back(); }) ==
        "mount M6: it has 2 adjusters; expected exactly three: they define the plane of the "
        "facet\n");
  CHECK(
      support::says(errors([](Dish& d) { d.mounts[0].adjusters.clear(); }), "it has no adjusters"));
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].adjusters.push_back({.label = "4"}); }),
                      "it has 4 adjusters"));
}

TEST_CASE("three screws in a line, or at one place, hold no tilt") {
  CHECK(support::says(errors([](Dish& d) {
                        for (std::size_t i = 0; i < 3; ++i) {
                          d.mounts[0].adjusters[i].x_m = 0.03 * static_cast<double>(i);
                          d.mounts[0].adjusters[i].y_m = 0.02 * static_cast<double>(i);
                        }
                      }),
                      "mount M6: its three screws stand in a line; expected a triangle"));
  CHECK(support::says(errors([](Dish& d) {
                        for (auto& screw : d.mounts[0].adjusters) screw.x_m = screw.y_m = 0.01;
                      }),
                      "stand at the same place"));
}

TEST_CASE("a screw without lead moves nothing") {
  CHECK(errors([](Dish& d) { d.mounts[0].adjusters[1].pitch_m = 0.0; }) ==
        "mount M6, screw 2: pitch_mm is 0; expected a lead above zero: turning this screw would "
        "move nothing\n");
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].adjusters[1].pitch_m = -0.001; }),
                      "mount M6, screw 2, pitch_mm: -1 mm"));
}

TEST_CASE("screws have labels of their own") {
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].adjusters[2].label = "1"; }),
                      "mount M6: two screws are labelled \"1\""));
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].adjusters[2].label = ""; }),
                      "mount M6, screw number 3: the label is empty"));
}

TEST_CASE("ids and names stand once") {
  CHECK(support::says(errors([](Dish& d) { d.facets[3].id = d.facets[0].id; }),
                      "facet A1: it is there twice; expected a name of its own for each facet"));
  CHECK(support::says(errors([](Dish& d) { d.facet_types.push_back(d.facet_types[0]); }),
                      "facet type hexagon: it is there twice"));
  CHECK(support::says(errors([](Dish& d) { d.mounts.push_back(d.mounts[0]); }),
                      "mount M6: it is there twice"));
  CHECK(support::says(errors([](Dish& d) { d.springs.push_back(d.springs[0]); }),
                      "spring return spring: it is there twice"));
}

TEST_CASE("names can be read aloud") {
  CHECK(support::says(errors([](Dish& d) { d.facets[0].id.text = ""; }), "the id is empty"));
  CHECK(support::says(errors([](Dish& d) { d.facets[0].id.text = "A\n1"; }), "control character"));
  CHECK(support::says(errors([](Dish& d) { d.facets[0].id.text = " A1"; }),
                      "without spaces at its ends"));
  CHECK(support::says(errors([](Dish& d) { d.facets[0].id.text = std::string(101, 'x'); }),
                      "at most 100 bytes"));
}

TEST_CASE("kinds that are named must be there") {
  CHECK(errors([](Dish& d) { d.facets[0].type.text = "octagon"; }) ==
        "facet A1: its type \"octagon\"; expected a facet type of this dish\n");
  CHECK(support::says(errors([](Dish& d) { d.facets[0].type.text = ""; }), "it has no facet type"));
  CHECK(support::says(errors([](Dish& d) { d.facets[0].mount.text = "M8"; }), "its mount \"M8\""));
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].spring.text = "strong"; }),
                      "its spring \"strong\""));
}

TEST_CASE("no facets, too many facets") {
  CHECK(support::says(errors([](Dish& d) { d.facets.clear(); }),
                      "facets: none; expected at least one facet"));
  CHECK(support::says(errors([](Dish& d) {
                        for (std::size_t i = d.facets.size(); i < 10001; ++i) {
                          d.facets.push_back(d.facets[0]);
                          d.facets.back().id.text = "F" + std::to_string(i);
                          d.facets.back().centre_m.x += 0.001 * static_cast<double>(i);
                        }
                      }),
                      "10001 facets; expected at most 10000"));
}

TEST_CASE("facets that stand at the same place") {
  CHECK(errors([](Dish& d) { d.facets[1].centre_m = d.facets[0].centre_m; }) ==
        "facet A2: its centre is that of facet A1; expected a place of its own\n");
}

TEST_CASE("values out of range name key, value and range") {
  CHECK(
      support::says(errors([](Dish& d) { d.focal_length_m = 0.0; }), "dish, focal_length_m: 0 m"));
  CHECK(
      support::says(errors([](Dish& d) { d.sun.dni_W_m2 = 5000.0; }), "sun, dni_W_m2: 5000 W/m2"));
  CHECK(support::says(errors([](Dish& d) { d.site.latitude_deg = 91.0; }),
                      "site, latitude_deg: 91 deg"));
  CHECK(support::says(errors([](Dish& d) { d.facet_types[0].reflectance = 1.2; }),
                      "reflectance: 1.2"));
  CHECK(support::says(
      errors([](Dish& d) { d.facet_types[0].slope_error_rad = -0.001; }),
      "slope_error_mrad: -1 mrad; expected slope error per axis, standard deviation from 0 "
      "to 100 mrad"));
  CHECK(support::says(errors([](Dish& d) { d.facets[5].aim_m.y = 20.0; }),
                      "facet A6, aim_mm: 20000 mm"));
  CHECK(support::says(errors([](Dish& d) { d.receiver.absorptance = -0.1; }),
                      "receiver, absorptance"));
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].clicks_per_turn = 0; }),
                      "clicks_per_turn: 0"));
  CHECK(support::says(errors([](Dish& d) { d.springs[0].rate_N_m = 0.0; }), "rate_N_mm: 0 N/mm"));
}

TEST_CASE("NaN anywhere is named and nothing falls over it") {
  CHECK(support::says(errors([](Dish& d) { d.focal_length_m = k_nan; }), "not a number"));
  CHECK(support::says(errors([](Dish& d) { d.facets[7].centre_m.x = k_nan; }),
                      "facet B2, centre_mm"));
  CHECK(support::says(errors([](Dish& d) { d.facets[7].clocking_rad = k_nan; }), "clocking_deg"));
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[7].normal = base::Vec3{k_nan, 0.0, 1.0};
                      }),
                      "normal"));
  CHECK(support::says(errors([](Dish& d) { d.facets[7].displacement_m[2] = k_nan; }),
                      "displacement_mm"));
  CHECK(support::says(errors([](Dish& d) {
                        d.receiver.lit_normal = {k_nan, 0.0, 0.0};
                      }),
                      "lit_normal"));
  CHECK(support::says(errors([](Dish& d) { d.mounts[0].adjusters[0].x_m = k_nan; }), "x_mm"));
  CHECK(support::says(errors([](Dish& d) { d.facet_types[0].outline = dish::Disc{k_nan}; }),
                      "diameter_mm"));
  CHECK(support::says(errors([](Dish& d) {
                        d.facet_types[0].outline = dish::Polygon{{{0, 0}, {k_nan, 0}, {0, 1}}};
                      }),
                      "corners_mm"));
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].bracket = dish::Bracket{.x = {k_nan, 0.0, 0.0}};
                      }),
                      "bracket"));
}

TEST_CASE("polygons: too few corners, no area, clockwise, bent inward, each in its own words") {
  const auto with = [](dish::Corners corners) {
    return errors([&](Dish& d) { d.facet_types[0].outline = dish::Polygon{corners}; });
  };
  CHECK(support::says(with({{0, 0}, {0.1, 0}}), "a polygon with 2 corners"));
  CHECK(support::says(with({{0, 0}, {0.1, 0.1}, {0.2, 0.2}}), "a polygon without area"));
  CHECK(support::says(with({{-0.1, -0.1}, {-0.1, 0.1}, {0.1, 0.1}, {0.1, -0.1}}), "go clockwise"));
  CHECK(support::says(with({{-0.1, -0.1}, {0.1, -0.1}, {-0.02, -0.02}, {-0.1, 0.1}}),
                      "points inward"));
}

TEST_CASE("petals whose radii do not fit, spheres that do not span the outline") {
  CHECK(support::says(errors([](Dish& d) {
                        d.facet_types[0].outline = dish::AnnularSector{0.5, 0.5, 0.4};
                      }),
                      "a petal from 500 to 500 mm"));
  CHECK(support::says(errors([](Dish& d) { d.facet_types[0].surface = dish::Spherical{-0.1}; }),
                      "a sphere of -100 mm radius; expected more than 132.791 mm"));
}

TEST_CASE("facets that face away, normals that are none") {
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].normal = base::Vec3{0.6, 0.0, -0.8};
                      }),
                      "faces away from the sun"));
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].normal = base::Vec3{0.0, 0.0, 0.0};
                      }),
                      "a direction, which has a length"));
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].normal = base::Vec3{0.0, 0.0, 2.0};
                      }),
                      "a direction of length 1"));
}

TEST_CASE("a bracket needs two directions that span a plane") {
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].bracket = dish::Bracket{.x = {1, 0, 0}, .y = {2, 0, 0}};
                      }),
                      "zero or parallel"));
}

TEST_CASE("a spring that is no longer free than solid cannot be") {
  CHECK(support::says(errors([](Dish& d) { d.springs[0].solid_length_m = 0.04; }),
                      "40 mm long when solid, 30 mm when free"));
}

TEST_CASE("displaced screws need a mount that says where they are") {
  CHECK(support::says(errors([](Dish& d) {
                        d.facets[0].mount.text = "";
                        d.facets[0].displacement_m[1] = 0.001;
                      }),
                      "its screws are displaced, but it has no mount"));
}

TEST_CASE("secondaries that cannot be") {
  const auto with = [](const dish::SecondaryForm& form, double vertex_z) {
    return errors([&](Dish& d) {
      d.secondary = dish::Secondary{.form = form, .vertex_m = {0.0, 0.0, vertex_z}};
    });
  };
  const dish::HyperboloidSecondary hyperboloid{.near_focus_z_m = 2.0, .far_focus_z_m = 0.1};
  CHECK(support::says(with(hyperboloid, 2.2), "a hyperboloid's vertex between"));
  CHECK(support::says(with(hyperboloid, 0.05), "a hyperboloid's vertex between"));
  CHECK(support::says(with(hyperboloid, 0.9), "nearer to the near focus"));
  const dish::EllipsoidSecondary ellipsoid{.near_focus_z_m = 2.0, .far_focus_z_m = 0.1};
  CHECK(support::says(with(ellipsoid, 1.8), "an ellipsoid's vertex above its near focus"));
  CHECK(support::says(with(dish::SphereSecondary{0.15}, 1.6),
                      "more than half the secondary's diameter"));
  CHECK(support::says(with(dish::ParaboloidSecondary{0.0}, 1.6), "focal_length_m: 0 m"));
  CHECK(
      support::says(errors([](Dish& d) { d.secondary = dish::Secondary{.hole_diameter_m = 0.5}; }),
                    "500 mm of hole"));
}

TEST_CASE("receivers and shading parts that cannot be") {
  CHECK(support::says(errors([](Dish& d) { d.receiver.shape = dish::DiscReceiver{0.0}; }),
                      "receiver, diameter_mm: 0 mm"));
  CHECK(support::says(errors([](Dish& d) {
                        d.receiver.lit_normal = {0.0, 0.0, 0.0};
                      }),
                      "lit_normal"));
  CHECK(support::says(
      errors([](Dish& d) {
        d.blockers.push_back({"strut", dish::TubeBlocker{{0, 0, 1}, {0, 0, 1}, 0.02}});
      }),
      "shading part strut: a tube that ends where it begins"));
  CHECK(support::says(errors([](Dish& d) {
                        d.blockers.push_back({"", dish::BoxBlocker{.y = {0.6, 0.8, 0.0}}});
                      }),
                      "shading part 1: its x and y directions are not square"));
}

TEST_CASE("rounds speak of facets that are there, and of each once") {
  const auto with_spots = [](std::vector<dish::Spot> spots) {
    return errors([&](Dish& d) { d.rounds.push_back({.name = "first", .spots = spots}); });
  };
  CHECK(with_spots({{.facet = {"D1"}}}) ==
        "round 1 (first), spots: facet \"D1\"; expected a facet of this dish, perhaps A1\n");
  CHECK(support::says(with_spots({{.facet = {"A1"}}, {.facet = {"A1"}}}),
                      "facet \"A1\" has two spots"));
  CHECK(support::says(with_spots({{.facet = {"A1"}, .seen_m = {0.0, 60.0}}}), "seen_mm: 60000 mm"));
  CHECK(support::says(with_spots({{.facet = {"A1"}, .sigma_m = 0.0}}), "sigma_mm: 0 mm"));
  CHECK(support::says(errors([](Dish& d) {
                        d.rounds.push_back(
                            {.turned = {{.facet = {"Q"}, .screw = "1", .turns = 0.5}}});
                      }),
                      "round 1, turns: facet \"Q\""));
  CHECK(support::says(errors([](Dish& d) {
                        d.rounds.push_back({.board = dish::Board{.lit_normal = {0.0, 0.0, 0.0}}});
                      }),
                      "lit_normal"));
}

TEST_CASE("very many errors of a kind are counted after the first ten") {
  const std::string text = errors([](Dish& d) {
    for (dish::Facet& facet : d.facets) facet.mount.text = "gone";
  });
  CHECK(lines(text) == 11);
  CHECK(support::says(text, "26 more problems of this kind"));
}
