// Edits that are refused say why; and no sequence of edits, sound or wild, breaks a sound dish.
#include <doctest/doctest.h>

#include <limits>
#include <random>
#include <string>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "dish/edit.h"
#include "support/says.h"

namespace {

using dish::Dish;
using dish::Edit;
namespace edit = dish::edit;

std::string refusal(const Dish& dish, const Edit& wish) {
  const auto result = dish::apply(dish, wish);
  CHECK_FALSE(result.ok());
  return result.ok() ? "" : base::to_text(result.problems());
}

std::string refusal(const Edit& wish) { return refusal(dish::default_dish(), wish); }

Dish dish_with_spot() {
  Dish dish = dish::default_dish();
  dish.rounds = {{.name = "first", .spots = {{.facet = {"A1"}}}}};
  return dish;
}

}  // namespace

TEST_CASE("values out of range are refused with the range") {
  CHECK(refusal(edit::SetFocalLength{0.0}) ==
        "dish, focal_length_m: 0 m; expected focal length of the dish from 0.05 to 200 m\n");
  CHECK(
      support::says(refusal(edit::SetSun{{.half_angle_rad = 1.0}}), "half_angle_mrad: 1000 mrad"));
  CHECK(support::says(refusal(edit::SetSite{{.longitude_deg = 181.0}}), "longitude_deg: 181 deg"));
  CHECK(support::says(refusal(edit::SetDisplacement{{"B4"}, 0, 0.5}),
                      "facet B4, displacement_mm: 500 mm"));
  CHECK(support::says(
      refusal(edit::SetDisplacements{{"B4"}, {0.0, std::numeric_limits<double>::quiet_NaN(), 0.0}}),
      "not a number"));
  CHECK(support::says(refusal(edit::SetClocking{{"A1"}, 100.0}), "clocking_deg"));
  CHECK(support::says(refusal(edit::SetAim{{"A1"}, {0.0, 99.0}}), "aim_mm"));
  CHECK(support::says(refusal(edit::SetFacetCentre{{"A1"}, {0.0, 0.0, 99.0}}), "centre_mm"));
  CHECK(support::says(refusal(edit::SetReceiver{{.absorptance = 2.0}}), "absorptance: 2"));
  CHECK(support::says(refusal(edit::SetReceiver{{.lit_normal = {0.0, 0.0, 0.0}}}), "lit_normal"));
  CHECK(support::says(refusal(edit::SetSecondary{dish::Secondary{.diameter_m = 0.0}}),
                      "diameter_mm: 0 mm"));
  CHECK(support::says(refusal(edit::AddBlocker{{"rod", dish::TubeBlocker{.diameter_m = -1.0}}}),
                      "shading part rod, diameter_mm: -1000 mm"));
}

TEST_CASE("things that are not there are named, with the closest that is") {
  CHECK(refusal(edit::SetDisplacement{{"B44"}, 0, 0.001}) ==
        "edit: facet \"B44\"; expected a facet of this dish, perhaps B4\n");
  CHECK(support::says(refusal(edit::SetDisplacement{{"B4"}, 3, 0.001}),
                      "screw number 4; expected 1, 2 or 3"));
  CHECK(support::says(refusal(edit::SetDisplacement{{"B4"}, -1, 0.001}), "screw number 0"));
  CHECK(support::says(refusal(edit::RemoveFacet{{"none"}}), "facet \"none\""));
  CHECK(support::says(refusal(edit::SetFacetType{{"A1"}, {"octagon"}}), "its type \"octagon\""));
  CHECK(support::says(refusal(edit::SetFacetMount{{"A1"}, {"M12"}}), "its mount \"M12\""));
  CHECK(support::says(refusal(edit::RemoveFacetType{{"octagon"}}), "facet type octagon"));
  CHECK(support::says(refusal(edit::RemoveRound{0}), "there are none"));
  CHECK(support::says(refusal(dish_with_spot(), edit::ReplaceRound{3, {}}),
                      "round 4; expected a number from 1 to 1"));
  CHECK(support::says(refusal(edit::SetSpot{0, {.facet = {"A1"}}}), "round 1"));
  CHECK(support::says(refusal(dish_with_spot(), edit::SetSpot{0, {.facet = {"Z9"}}}),
                      "facet \"Z9\""));
  CHECK(
      support::says(refusal(dish_with_spot(), edit::RemoveSpot{0, {"A2"}}), "no spot of facet A2"));
  CHECK(support::says(refusal(edit::RemoveBlocker{0}), "shading part 1"));
  CHECK(support::says(refusal(edit::ReplaceBlocker{2, {}}), "shading part 3"));
}

TEST_CASE("turns of screws that are not there are not logged, and nothing moves") {
  const Dish dish = dish_with_spot();
  edit::RecordTurns wish{.round = 0,
                         .turned = {{.facet = {"A1"}, .screw = "4", .turns = 0.5}},
                         .moved = {{{"A1"}, {0.001, 0.0, 0.0}}}};
  CHECK(support::says(refusal(dish, wish), "facet A1: screw \"4\"; expected one of 1, 2, 3"));
  wish.turned = {};
  wish.moved = {{{"A1"}, {0.001, 0.0, 0.0}}, {{"A2"}, {0.9, 0.0, 0.0}}};
  CHECK(support::says(refusal(dish, wish), "facet A2, displacement_mm"));
  wish.round = 7;
  CHECK(support::says(refusal(dish, wish), "round 8"));
}

TEST_CASE("kinds in use stay, and kinds that cannot be are not taken in") {
  CHECK(refusal(edit::RemoveFacetType{{"hexagon"}}) ==
        "facet type hexagon: it is used by facets A1, A2, A3 and 33 more; expected one that "
        "nothing uses\n");
  CHECK(support::says(refusal(edit::RemoveMount{{"M6"}}), "it is used by facets A1"));
  CHECK(support::says(refusal(edit::RemoveSpring{{"return spring"}}), "it is used by mount M6"));
  dish::Mount mount = dish::default_mount();
  mount.adjusters.pop_back();
  CHECK(support::says(refusal(edit::UpsertMount{mount}), "it has 2 adjusters"));
  mount = dish::default_mount();
  mount.spring = {"gone"};
  CHECK(support::says(refusal(edit::UpsertMount{mount}), "its spring \"gone\""));
  CHECK(support::says(refusal(edit::UpsertFacetType{{.name = {""}}}), "the name is empty"));
}

TEST_CASE("facets keep apart, and a dish keeps one") {
  const Dish dish = dish::default_dish();
  CHECK(support::says(refusal(edit::AddFacet{dish.facets[0]}), "facet A1: it is there already"));
  CHECK(support::says(refusal(edit::SetFacetCentre{{"A2"}, dish.facets[0].centre_m}),
                      "facet A2: its centre is that of facet A1"));
  Dish last = dish;
  last.facets.resize(1);
  CHECK(support::says(refusal(last, edit::RemoveFacet{{"A1"}}), "the last facet"));
}

TEST_CASE("rounds that contradict themselves are not taken in") {
  CHECK(support::says(refusal(edit::AddRound{{.spots = {{.facet = {"A1"}}, {.facet = {"A1"}}}}}),
                      "two spots"));
  CHECK(support::says(refusal(edit::AddRound{{.spots = {{.facet = {"Q1"}}}}}), "facet \"Q1\""));
  CHECK(support::says(refusal(edit::AddRound{{.source = dish::LampSource{{0.0, 0.0, 1e9}}}}),
                      "position_m"));
}

TEST_CASE("layouts that fail, or name kinds that are not there, leave the dish as it was") {
  CHECK(support::says(
      refusal(edit::ReplaceFacets{dish::RingsLayout{.rings = 99, .type = {"hexagon"}}}),
      "rings: 99"));
  CHECK(refusal(edit::ReplaceFacets{dish::RingsLayout{.type = {"tile"}, .mount = {"M6"}}}) ==
        "layout: its type \"tile\"; expected a facet type of this dish\n");
  CHECK(
      support::says(refusal(edit::ReplaceFacets{dish::PetalsLayout{
                        .rings = {{.type = {"p"}},
                                  {.inner_radius_m = 0.7, .outer_radius_m = 0.9, .type = {"p"}}}}}),
                    "two rings of type \"p\""));
}

TEST_CASE("a dish with errors is not taken in whole") {
  Dish broken = dish::default_dish();
  broken.facets[0].type = {"gone"};
  CHECK(support::says(refusal(edit::ReplaceDish{broken}), "its type \"gone\""));
}

namespace {

/// Wild wishes: mostly sound, often out of range or about things that are not there.
class Wisher {
 public:
  explicit Wisher(unsigned seed) : random_(seed) {}

  Edit next() {
    switch (pick(18)) {
      case 0:
        return edit::SetFocalLength{number()};
      case 1:
        return edit::SetFacetCentre{id(), {number(), number(), 0.1 * number()}};
      case 2:
        return edit::SetAim{id(), {0.1 * number(), number()}};
      case 3:
        return edit::SetDisplacement{id(), static_cast<int>(pick(5)) - 1, 0.01 * number()};
      case 4:
        return edit::SetFacetType{id(), {pick(2) == 0 ? "hexagon" : "tile"}};
      case 5:
        return edit::SetFacetMount{id(), {pick(2) == 0 ? "M6" : ""}};
      case 6:
        return edit::UpsertFacetType{{.name = {"tile"}, .outline = dish::Disc{number()}}};
      case 7:
        return edit::RemoveFacetType{{pick(2) == 0 ? "tile" : "hexagon"}};
      case 8:
        return edit::AddRound{{.spots = {{.facet = id()}, {.facet = id()}}}};
      case 9:
        return edit::SetSpot{pick(3), {.facet = id(), .seen_m = {number(), 0.0}}};
      case 10:
        return edit::RemoveRound{pick(3)};
      case 11:
        return edit::RemoveFacet{id()};
      case 12:
        return edit::ReplaceFacets{rings()};
      case 13:
        return edit::SetFacetNormal{id(), base::Vec3{number(), number(), number()}};
      case 14:
        return edit::SetSecondary{dish::Secondary{
            .form = dish::HyperboloidSecondary{number(), number()}, .vertex_m = {0, 0, number()}}};
      case 15:
        return edit::AmendTurns{pick(3), id(), {{id(), "1", number()}}, {}};
      case 16:
        return edit::UndoRound{{{id(), {number(), 0, 0}}}};
      default:
        return edit::RecordTurns{pick(3), {{id(), "1", number()}}, {{id(), {number(), 0, 0}}}};
    }
  }

 private:
  std::size_t pick(std::size_t n) { return random_() % n; }
  double number() {
    const double values[] = {
        0.0, 0.5, -0.5, 1.7, 2.0, 0.2, -3.0, 1e9, std::numeric_limits<double>::quiet_NaN(), 1e-9};
    return values[pick(10)];
  }
  dish::FacetId id() { return {std::string(1, "ABCQ"[pick(4)]) + std::to_string(pick(7))}; }
  dish::RingsLayout rings() {
    return {.rings = static_cast<int>(pick(4)),
            .left_out = {},
            .pitch_m = number(),
            .type = {pick(3) == 0 ? "tile" : "hexagon"},
            .mount = {pick(3) == 0 ? "" : "M6"}};
  }

  std::mt19937 random_;
};

}  // namespace

TEST_CASE("law: a sound dish stays sound under every edit that is accepted") {
  std::size_t accepted = 0;
  std::size_t refused = 0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Wisher wisher(seed);
    Dish dish = dish::default_dish();
    for (int step = 0; step < 200; ++step) {
      const Edit wish = wisher.next();
      auto result = dish::apply(dish, wish);
      if (!result.ok()) {
        ++refused;
        continue;
      }
      ++accepted;
      dish = std::move(result).value();
      const base::Problems errors = dish::errors_of(dish);
      if (!errors.empty())
        FAIL("seed " << seed << ", step " << step << ", " << dish::title_of(wish) << ": "
                     << base::to_text(errors));
    }
  }
  CHECK(accepted > 500);
  CHECK(refused > 500);
}
