// Layouts: how many facets, where, and under which ids.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "base/units.h"
#include "dish/defaults.h"
#include "dish/facts.h"
#include "dish/overlap.h"
#include "dish/recipes.h"
#include "support/says.h"

namespace {

using base::Vec2;
using base::Vec3;
using dish::Facet;

std::vector<Facet> laid(const dish::Layout& layout, double focal_length_m = 2.0) {
  auto facets = dish::lay_out(layout, focal_length_m);
  REQUIRE_MESSAGE(facets.ok(), "the layout is accepted");
  return std::move(facets).value();
}

std::string refusal(const dish::Layout& layout, double focal_length_m = 2.0) {
  const auto facets = dish::lay_out(layout, focal_length_m);
  return facets.ok() ? "" : base::to_text(facets.problems());
}

std::set<std::string> ids_of(const std::vector<Facet>& facets) {
  std::set<std::string> ids;
  for (const Facet& facet : facets) ids.insert(facet.id.text);
  return ids;
}

double nearest_neighbour(const std::vector<Facet>& facets, std::size_t i) {
  double nearest = 1e9;
  for (std::size_t j = 0; j < facets.size(); ++j) {
    if (j != i)
      nearest =
          std::min(nearest, glm::distance(Vec2(facets[i].centre_m), Vec2(facets[j].centre_m)));
  }
  return nearest;
}

}  // namespace

TEST_CASE("n whole rings have 1 + 3 n (n + 1) facets") {
  for (int n = 0; n <= 20; ++n) {
    const auto facets = laid(dish::RingsLayout{.rings = n, .left_out = {}});
    CHECK(facets.size() == static_cast<std::size_t>(1 + 3 * n * (n + 1)));
  }
}

TEST_CASE("ring n has 6 n facets, none nearer than the pitch, all within n pitches") {
  for (int n = 1; n <= 12; ++n) {
    std::vector<int> inner;
    for (int ring = 0; ring < n; ++ring) inner.push_back(ring);
    const auto facets = laid(dish::RingsLayout{.rings = n, .left_out = inner, .pitch_m = 0.1});
    REQUIRE(facets.size() == static_cast<std::size_t>(6 * n));
    for (std::size_t i = 0; i < facets.size(); ++i) {
      CHECK(nearest_neighbour(facets, i) == doctest::Approx(0.1).epsilon(1e-12));
      const double r = glm::length(Vec2(facets[i].centre_m));
      CHECK(r <= 0.1 * n * (1.0 + 1e-12));
      CHECK(r >= 0.1 * n * std::sqrt(3.0) / 2.0 * (1.0 - 1e-12));
    }
  }
}

TEST_CASE("the inner neighbours lie at 0, 60, ... degrees, anticlockwise from +x") {
  const auto facets = laid(dish::RingsLayout{.rings = 1, .pitch_m = 0.25});
  REQUIRE(facets.size() == 6);
  for (int k = 0; k < 6; ++k) {
    const Vec3& centre = facets[static_cast<std::size_t>(k)].centre_m;
    const double angle = base::rad_from_deg(60.0 * k);
    CHECK(std::abs(centre.x - 0.25 * std::cos(angle)) < 1e-15);
    CHECK(std::abs(centre.y - 0.25 * std::sin(angle)) < 1e-15);
  }
}

TEST_CASE("ids tell ring and number, and do not change when other rings are left out") {
  const auto whole = laid(dish::RingsLayout{.rings = 3, .left_out = {}});
  CHECK(whole[0].id.text == "A0");
  CHECK(whole[1].id.text == "A1");
  CHECK(whole[6].id.text == "A6");
  CHECK(whole[7].id.text == "B1");
  CHECK(whole[36].id.text == "C18");
  const auto outer = laid(dish::RingsLayout{.rings = 3, .left_out = {0, 1, 2}});
  REQUIRE(outer.size() == 18);
  for (std::size_t i = 0; i < outer.size(); ++i) {
    CHECK(outer[i].id == whole[19 + i].id);
    CHECK(outer[i].centre_m == whole[19 + i].centre_m);
  }
}

TEST_CASE("letters of the rings go on after Z") {
  CHECK(dish::ring_letters(1) == "A");
  CHECK(dish::ring_letters(26) == "Z");
  CHECK(dish::ring_letters(27) == "AA");
  CHECK(dish::ring_letters(52) == "AZ");
  CHECK(dish::ring_letters(53) == "BA");
  CHECK(dish::ring_letters(702) == "ZZ");
  CHECK(dish::ring_letters(703) == "AAA");
}

TEST_CASE("the largest rings, and ten thousand facets in a lattice, have ids of their own") {
  const auto rings = laid(dish::RingsLayout{.rings = 57, .left_out = {}, .pitch_m = 0.01});
  CHECK(rings.size() == 9919);
  CHECK(ids_of(rings).size() == rings.size());
  const auto lattice = laid(dish::LatticeLayout{.columns = 100, .rows = 100});
  CHECK(lattice.size() == dish::k_most_facets);
  CHECK(ids_of(lattice).size() == lattice.size());
}

TEST_CASE("frames: flat, paraboloid, sphere") {
  CHECK(dish::frame_height(dish::FlatFrame{0.07}, 2.0, 0.9) == 0.07);
  CHECK(*dish::frame_height(dish::ParabolicFrame{}, 2.0, 0.75) == 0.0703125);
  // On a sphere every point is one radius from its centre.
  for (const double r : {0.0, 1e-6, 0.3, 2.0, 3.999, 4.0}) {
    const auto z = dish::frame_height(dish::SphericalFrame{4.0}, 2.0, r);
    REQUIRE(z.has_value());
    CHECK(std::hypot(r, 4.0 - *z) == doctest::Approx(4.0).epsilon(1e-15));
  }
  CHECK_FALSE(dish::frame_height(dish::SphericalFrame{4.0}, 2.0, 4.001).has_value());
  // Near the axis it keeps its digits: r^2 / 2R.
  CHECK(*dish::frame_height(dish::SphericalFrame{4.0}, 2.0, 1e-6) ==
        doctest::Approx(1.25e-13).epsilon(1e-12));
}

TEST_CASE("facets of a layout lie on its frame") {
  for (const Facet& facet : laid(dish::RingsLayout{}))
    CHECK(facet.centre_m.z ==
          doctest::Approx(glm::dot(Vec2(facet.centre_m), Vec2(facet.centre_m)) / 8.0));
  for (const Facet& facet : laid(dish::RingsLayout{.frame = dish::FlatFrame{-0.1}}))
    CHECK(facet.centre_m.z == -0.1);
}

TEST_CASE("a lattice is centred on the axis and read like a page") {
  const auto facets = laid(dish::LatticeLayout{.columns = 4,
                                               .rows = 3,
                                               .column_pitch_m = 0.3,
                                               .row_pitch_m = 0.2,
                                               .type = {"t"},
                                               .mount = {"m"}});
  REQUIRE(facets.size() == 12);
  CHECK(facets[0].id.text == "R1C1");
  CHECK(facets[0].centre_m.x == doctest::Approx(-0.45));
  CHECK(facets[0].centre_m.y == doctest::Approx(0.2));
  CHECK(facets[1].id.text == "R1C2");
  CHECK(facets[11].id.text == "R3C4");
  Vec3 sum{0.0, 0.0, 0.0};
  for (const Facet& facet : facets) {
    sum += facet.centre_m;
    CHECK(facet.type.text == "t");
    CHECK(facet.mount.text == "m");
  }
  CHECK(glm::length(sum) < 1e-15);
}

TEST_CASE("a lattice leaves out by the centre's distance, and the other ids stay") {
  const dish::LatticeLayout layout{
      .columns = 5, .rows = 5, .free_within_m = 0.1, .free_beyond_m = 0.6};
  const auto facets = laid(layout);
  CHECK(facets.size() == 20);  // the centre and the four corners are gone
  const auto ids = ids_of(facets);
  CHECK(ids.count("R3C3") == 0);
  CHECK(ids.count("R1C1") == 0);
  CHECK(ids.count("R1C2") == 1);
}

TEST_CASE("layouts refuse what cannot be, with key, value and range") {
  CHECK(refusal(dish::RingsLayout{.rings = 58}) ==
        "layout, rings: 58; expected number of hexagonal rings around the centre from 0 to 57, a "
        "whole number\n");
  CHECK(support::says(refusal(dish::RingsLayout{.rings = -1}), "layout, rings: -1"));
  CHECK(support::says(refusal(dish::RingsLayout{.pitch_m = 0.0}), "pitch_mm: 0 mm"));
  CHECK(
      support::says(refusal(dish::RingsLayout{.pitch_m = std::nan("")}), "pitch_mm: not a number"));
  CHECK(support::says(refusal(dish::RingsLayout{.rings = 2, .left_out = {3}}),
                      "ring 3; expected a ring from 0 (the centre) to 2"));
  CHECK(support::says(refusal(dish::RingsLayout{.rings = 1, .left_out = {0, 1}}), "no facets"));
  CHECK(support::says(refusal(dish::RingsLayout{}, -1.0), "focal_length_m: -1 m"));
  CHECK(support::says(refusal(dish::RingsLayout{.frame = dish::SphericalFrame{0.5}}),
                      "frame_radius_m: 0.5 m; expected at least 0.75 m"));
  CHECK(support::says(refusal(dish::LatticeLayout{.columns = 101, .rows = 100}), "at most 10000"));
  CHECK(support::says(refusal(dish::LatticeLayout{.columns = 0}), "columns: 0"));
  CHECK(support::says(refusal(dish::LatticeLayout{.free_within_m = 50.0}), "no facets"));
  CHECK(support::says(refusal(dish::LatticeLayout{.row_pitch_m = -0.1}), "pitch_mm: -100 mm"));
  CHECK(support::says(refusal(dish::LatticeLayout{.frame = dish::FlatFrame{2.5}}),
                      "below the focus"));
}

TEST_CASE("several bad options are told in one go") {
  const std::string said = refusal(dish::RingsLayout{.rings = -3, .left_out = {}, .pitch_m = 1e6});
  CHECK(support::says(said, "rings"));
  CHECK(support::says(said, "pitch_mm"));
}

TEST_CASE("petals stand half way between their radii, clocked so that u points outward") {
  const dish::PetalsLayout layout{
      .rings = {{.inner_radius_m = 0.2, .outer_radius_m = 0.5, .count = 8, .type = {"inner"}},
                {.inner_radius_m = 0.52, .outer_radius_m = 0.9, .count = 16, .type = {"outer"}}},
      .mount = {"m"}};
  const auto facets = laid(layout);
  REQUIRE(facets.size() == 24);
  CHECK(facets[0].id.text == "A1");
  CHECK(facets[8].id.text == "B1");
  CHECK(facets[23].id.text == "B16");
  for (const Facet& facet : facets) {
    const bool inner = facet.type.text == "inner";
    CHECK(glm::length(Vec2(facet.centre_m)) == doctest::Approx(inner ? 0.35 : 0.71).epsilon(1e-14));
    const Vec3 n = dish::prime_focus_normal(facet.centre_m, 2.0);
    const Vec3 u = base::frame_of_normal(n, facet.clocking_rad)[0];
    const Vec2 outward = glm::normalize(Vec2(facet.centre_m));
    CHECK(std::abs(u.x * outward.y - u.y * outward.x) < 1e-14);
    CHECK(glm::dot(Vec2(u), outward) > 0.9);
  }
  CHECK(facets[2].centre_m.x == 0.0);  // a quarter of the circle comes out round
}

TEST_CASE("petals keep their gap in the aperture plane once they are tilted, and no more than it") {
  for (const double focal_length : {0.6, 2.0, 20.0}) {
    for (const double gap : {0.0, 0.004, 0.02}) {
      const dish::PetalsLayout layout{
          .rings = {{.inner_radius_m = 0.3, .outer_radius_m = 0.8, .count = 10, .type = {"p"}}},
          .gap_m = gap};
      const auto outline = dish::petal_outline(layout, 0, focal_length);
      REQUIRE(outline.ok());
      const auto facets = laid(layout, focal_length);
      // Distance of the first petal's corners from the line half way to its neighbour.
      const double half = base::k_pi / 10.0;
      double nearest = 1e9;
      for (const Vec3& corner : dish::facet_corners(facets[0], outline.value(), focal_length, 400))
        nearest = std::min(nearest, corner.x * std::sin(half) - corner.y * std::cos(half));
      CHECK(nearest == doctest::Approx(0.5 * gap).epsilon(1e-9));
      CHECK(std::abs(nearest - 0.5 * gap) < 1e-12);
    }
  }
}

TEST_CASE("petals that are laid out do not overlap") {
  dish::Dish dish = dish::default_dish();
  const dish::PetalsLayout layout{
      .rings = {{.inner_radius_m = 0.2, .outer_radius_m = 0.5, .count = 6, .type = {"inner"}},
                {.inner_radius_m = 0.5, .outer_radius_m = 0.9, .count = 12, .type = {"outer"}}},
      .gap_m = 0.005};
  dish.facets = laid(layout);
  dish.facet_types.resize(2, dish.facet_types[0]);
  for (std::size_t ring = 0; ring < 2; ++ring) {
    dish.facet_types[ring].name = layout.rings[ring].type;
    dish.facet_types[ring].outline = dish::petal_outline(layout, ring, 2.0).value();
  }
  CHECK(dish::overlapping_facets(dish, 10).empty());
  // Opened a little further they do.
  std::get<dish::AnnularSector>(dish.facet_types[0].outline).opening_rad += 0.05;
  CHECK(dish::overlapping_facets(dish, 100).size() == 6);
}

TEST_CASE("petals refuse what cannot be") {
  const auto petals = [](dish::PetalRing ring, double gap = 0.01) {
    return dish::PetalsLayout{.rings = {std::move(ring)}, .gap_m = gap};
  };
  CHECK(support::says(refusal(petals({.inner_radius_m = 0.5, .outer_radius_m = 0.4})),
                      "500 mm to 400 mm"));
  CHECK(support::says(refusal(petals({.count = 1})), "petals: 1"));
  CHECK(support::says(refusal(petals({.inner_radius_m = 0.01, .count = 100})), "gap_mm: 10 mm"));
  CHECK(support::says(refusal(petals({.count = 20000})), "at most 10000"));
  CHECK(support::says(refusal(dish::PetalsLayout{.rings = {}}), "at least one ring"));
  CHECK(support::says(refusal(dish::PetalsLayout{.rings = {{.type = {"a"}}, {.type = {"b"}}}}),
                      "the ring before"));
}

TEST_CASE("neighbours of the default layout face each other flat to flat, with their gap between") {
  dish::Dish dish = dish::default_dish();
  CHECK(dish::overlapping_facets(dish, 10).empty());
  // On a flat frame, lying flat, hexagons as wide as the pitch just touch; wider ones overlap.
  dish.facets =
      laid(dish::RingsLayout{.rings = 1, .frame = dish::FlatFrame{}, .type = {"hexagon"}});
  for (Facet& facet : dish.facets) facet.normal = Vec3{0.0, 0.0, 1.0};
  dish.facet_types[0].outline = dish::Hexagon{0.25};
  CHECK(dish::overlapping_facets(dish, 10).empty());
  dish.facet_types[0].outline = dish::Hexagon{0.251};
  CHECK(dish::overlapping_facets(dish, 100).size() == 6);
}
