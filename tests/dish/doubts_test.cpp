// What is odd about a dish though it can be: each doubt has its own message.
#include <doctest/doctest.h>

#include <string>

#include "found.h"
#include "support/says.h"

namespace {

using dish::Dish;
using dish_test::doubts;

}  // namespace

TEST_CASE("doubt: facets without a mount") {
  CHECK(doubts([](Dish& d) {
          d.facets[0].mount.text = "";
          d.facets[1].mount.text = "";
        }) == "facets A1 and A2: no mount is named, so no turns can be told\n");
}

TEST_CASE("doubt: screws beyond their travel") {
  CHECK(doubts([](Dish& d) { d.facets[2].displacement_m[1] = 0.0071; }) ==
        "facet A3, screw 2: stands at +7.10 mm, beyond its travel of -6.0 to +6.0 mm\n");
  CHECK(support::says(doubts([](Dish& d) {
                        d.mounts[0].adjusters[0].travel_min_m = 0.0;
                        d.mounts[0].adjusters[0].travel_max_m = 0.0;
                      }),
                      "screw 1: its travel is nothing both ways"));
}

TEST_CASE("doubt: springs that go slack or solid") {
  // Pulled to the bracket: the spring is compressed as the screw pushes toward the sun.
  CHECK(support::says(
      doubts([](Dish& d) { d.mounts[0].adjusters[0].travel_max_m = 0.011; }),
      "mount M6, screw 1: at the end of its travel (+11.0 mm) the spring is pressed solid"));
  CHECK(support::says(
      doubts([](Dish& d) { d.mounts[0].adjusters[0].travel_min_m = -0.0075; }),
      "screw 1: at the end of its travel (-7.5 mm) the spring is slack (1.0 N; 2.0 N hold"));
  // Pushed to the sun: the other way round.
  CHECK(support::says(doubts([](Dish& d) {
                        d.springs[0].pushes_to_sun = true;
                        d.mounts[0].adjusters[0].travel_min_m = -0.011;
                      }),
                      "(-11.0 mm) the spring is pressed solid"));
  CHECK(support::says(doubts([](Dish& d) { d.springs[0].installed_length_m = 0.0295; }),
                      "with all screws at nominal the spring is slack"));
  CHECK(support::says(doubts([](Dish& d) {
                        d.springs[0].least_force_N = 6.0;
                        d.facets[0].displacement_m[0] = -0.0058;
                      }),
                      "facet A1, screw 1: stands at -5.80 mm, where the spring is slack"));
}

TEST_CASE("doubt: screws beyond the facet's edge, and a centre outside its polygon") {
  CHECK(support::says(
      doubts([](Dish& d) { d.facet_types[0].outline = dish::Disc{0.15}; }),
      "screw 1: stands 80 mm from the centre, beyond the edge of facet type hexagon (75 mm)"));
  CHECK(support::says(doubts([](Dish& d) {
                        d.facet_types[0].outline = dish::Polygon{{{0.01, 0}, {0.1, 0}, {0.1, 0.1}}};
                      }),
                      "lies outside the polygon"));
}

TEST_CASE("doubt: facets that overlap") {
  const std::string text = doubts([](Dish& d) { d.facets[0].centre_m.x += 0.03; });
  CHECK(support::says(text, "they overlap as seen from the sun"));
  CHECK(support::says(text, "facets A1 and B1"));
}

TEST_CASE("doubt: aims beside the receiver, a receiver turned away or far from the focus") {
  CHECK(doubts([](Dish& d) {
          d.facets[4].aim_m = {0.09, 0.05};
        }) == "facet A5: aimed beside the receiver\n");
  CHECK(support::says(doubts([](Dish& d) {
                        d.receiver.lit_normal = {0.0, 0.0, 1.0};
                      }),
                      "its lit side faces away from the facets"));
  CHECK(support::says(doubts([](Dish& d) { d.receiver.centre_m.z = 1.5; }),
                      "its centre is 500 mm from the dish's focus at z = 2.000 m"));
}

TEST_CASE("doubt: a secondary that does not fit the dish") {
  const auto with = [](double f, double vertex_z) {
    return doubts([&](Dish& d) {
      d.secondary = dish::Secondary{
          .form = dish::HyperboloidSecondary{.near_focus_z_m = f, .far_focus_z_m = 0.1},
          .vertex_m = {0.0, 0.0, vertex_z}};
      d.receiver.centre_m = {0.0, 0.0, 0.1};
      d.receiver.lit_normal = {0.0, 0.0, 1.0};
    });
  };
  CHECK(with(2.0, 1.6).empty());
  CHECK(support::says(with(1.9, 1.6),
                      "its near focus is at z = 1.900 m, the dish's focus at 2.000 m"));
}

TEST_CASE("doubt: logged turns of a screw whose label is gone") {
  CHECK(support::says(doubts([](Dish& d) {
                        d.rounds.push_back(
                            {.turned = {{.facet = {"A1"}, .screw = "left", .turns = 0.5}}});
                      }),
                      "round 1: tells turns of screw left of facet A1"));
}
