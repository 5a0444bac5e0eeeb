// Every edit does what it says and nothing else.
#include <doctest/doctest.h>

#include <string>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "dish/edit.h"
#include "dish/outline_facts.h"

namespace {

using dish::Dish;
using dish::Edit;
namespace edit = dish::edit;

/// The dish after an edit that must be accepted, and that must leave a sound dish.
Dish edited(const Dish& dish, const Edit& wish) {
  auto result = dish::apply(dish, wish);
  if (!result.ok()) FAIL(base::to_text(result.problems()));
  CHECK(dish::errors_of(result.value()).empty());
  return std::move(result).value();
}

Dish edited(const Edit& wish) { return edited(dish::default_dish(), wish); }

Dish with_round() {
  return edited(edit::AddRound{{.name = "first",
                                .spots = {{.facet = {"A1"}, .seen_m = {0.01, 0.02}},
                                          {.facet = {"C18"}, .seen_m = {0.03, 0.04}}}}});
}

const dish::Facet& facet(const Dish& dish, const std::string& id) {
  const std::size_t index = dish::find_facet(dish, {id});
  REQUIRE(index != dish::k_no_facet);
  return dish.facets[index];
}

}  // namespace

TEST_CASE("names, notes, focal length, sun and site") {
  CHECK(edited(edit::SetName{"Larch Refuge"}).name == "Larch Refuge");
  CHECK(edited(edit::SetNote{"washed in spring"}).note == "washed in spring");
  const Dish dish = edited(edit::SetFocalLength{1.8});
  CHECK(dish.focal_length_m == 1.8);
  CHECK(dish.receiver.centre_m.z == 2.0);  // everything else stays where it is
  CHECK(edited(edit::SetSun{{.dni_W_m2 = 850.0}}).sun.dni_W_m2 == 850.0);
  CHECK(edited(edit::SetSite{{.name = "hut", .latitude_deg = 46.5}}).site.latitude_deg == 46.5);
}

TEST_CASE("receiver and secondary; directions are brought to length 1") {
  dish::Receiver receiver = dish::default_receiver();
  receiver.lit_normal = {0.0, 0.0, -7.0};
  CHECK(edited(edit::SetReceiver{receiver}).receiver.lit_normal == base::Vec3{0.0, 0.0, -1.0});
  const Dish folded = edited(edit::SetSecondary{dish::default_secondary()});
  CHECK(folded.secondary.has_value());
  CHECK_FALSE(edited(folded, edit::SetSecondary{std::nullopt}).secondary.has_value());
}

TEST_CASE("one facet at a time") {
  CHECK(facet(edited(edit::SetFacetCentre{{"A2"}, {0.13, 0.22, 0.01}}), "A2").centre_m ==
        base::Vec3{0.13, 0.22, 0.01});
  CHECK(facet(edited(edit::SetClocking{{"A2"}, 0.5}), "A2").clocking_rad == 0.5);
  CHECK(facet(edited(edit::SetAim{{"A2"}, {0.01, -0.02}}), "A2").aim_m == base::Vec2{0.01, -0.02});
  const Dish fixed = edited(edit::SetFacetNormal{{"A2"}, base::Vec3{0.0, 0.0, 3.0}});
  CHECK(facet(fixed, "A2").normal == base::Vec3{0.0, 0.0, 1.0});
  CHECK_FALSE(facet(edited(fixed, edit::SetFacetNormal{{"A2"}, std::nullopt}), "A2").normal);
  const Dish held =
      edited(edit::SetFacetBracket{{"A2"}, dish::Bracket{.origin_m = {0.1, 0.2, -0.04}}});
  CHECK(facet(held, "A2").bracket->origin_m.z == -0.04);
  CHECK_FALSE(facet(edited(held, edit::SetFacetBracket{{"A2"}, std::nullopt}), "A2").bracket);
}

TEST_CASE("facets come and go; what rounds say of a lost facet goes with it") {
  dish::Facet more = dish::default_dish().facets[0];
  more.id = {"extra"};
  more.centre_m = {1.2, 0.0, 0.18};
  CHECK(edited(edit::AddFacet{more}).facets.back().id.text == "extra");
  const Dish fewer = edited(with_round(), edit::RemoveFacet{{"A1"}});
  CHECK(fewer.facets.size() == 35);
  REQUIRE(fewer.rounds[0].spots.size() == 1);
  CHECK(fewer.rounds[0].spots[0].facet.text == "C18");
}

TEST_CASE("screws: one, three, all, and back to nominal") {
  const Dish one = edited(edit::SetDisplacement{{"B4"}, 1, 0.0015});
  CHECK(facet(one, "B4").displacement_m == std::array<double, 3>{0.0, 0.0015, 0.0});
  const Dish three = edited(one, edit::SetDisplacements{{"B5"}, {0.001, -0.002, 0.003}});
  CHECK(facet(three, "B5").displacement_m[2] == 0.003);
  CHECK(facet(three, "B4").displacement_m[1] == 0.0015);
  const Dish reset = edited(three, edit::ResetDisplacements{dish::FacetId{"B4"}});
  CHECK(facet(reset, "B4").displacement_m[1] == 0.0);
  CHECK(facet(reset, "B5").displacement_m[0] == 0.001);
  for (const dish::Facet& each : edited(three, edit::ResetDisplacements{}).facets)
    CHECK(each.displacement_m == std::array<double, 3>{0.0, 0.0, 0.0});
}

TEST_CASE("kinds are added, replaced by name, chosen for a facet, and removed when unused") {
  dish::FacetType square{.name = {"square"}, .outline = dish::Rectangle{0.2, 0.2}};
  Dish dish = edited(edit::UpsertFacetType{square});
  REQUIRE(dish.facet_types.size() == 2);
  square.reflectance = 0.8;
  dish = edited(dish, edit::UpsertFacetType{square});
  REQUIRE(dish.facet_types.size() == 2);
  CHECK(dish.facet_types[1].reflectance == 0.8);
  const Dish chosen = edited(dish, edit::SetFacetType{{"C3"}, {"square"}});
  CHECK(facet(chosen, "C3").type.text == "square");
  CHECK(edited(dish, edit::RemoveFacetType{{"square"}}).facet_types.size() == 1);

  dish::Mount mount = dish::default_mount();
  mount.name = {"M8"};
  for (dish::Adjuster& screw : mount.adjusters) screw.pitch_m = 0.00125;
  dish = edited(edit::UpsertMount{mount});
  CHECK(facet(edited(dish, edit::SetFacetMount{{"C3"}, {"M8"}}), "C3").mount.text == "M8");
  CHECK(edited(dish, edit::RemoveMount{{"M8"}}).mounts.size() == 1);

  dish::Spring spring = dish::default_spring();
  spring.name = {"soft"};
  spring.rate_N_m = 900.0;
  dish = edited(edit::UpsertSpring{spring});
  CHECK(dish.springs.size() == 2);
  CHECK(edited(dish, edit::RemoveSpring{{"soft"}}).springs.size() == 1);
}

TEST_CASE("a new layout keeps aims, displacements and spots of the ids that stay") {
  Dish dish = with_round();
  dish = edited(dish, edit::SetAim{{"A1"}, {0.02, 0.0}});
  dish = edited(dish, edit::SetDisplacement{{"A1"}, 0, 0.001});
  dish = edited(dish, edit::ReplaceFacets{dish::RingsLayout{
                          .rings = 2, .pitch_m = 0.3, .type = {"hexagon"}, .mount = {"M6"}}});
  CHECK(dish.facets.size() == 18);
  CHECK(facet(dish, "A1").centre_m.x == 0.3);
  CHECK(facet(dish, "A1").aim_m.x == 0.02);
  CHECK(facet(dish, "A1").displacement_m[0] == 0.001);
  REQUIRE(dish.rounds[0].spots.size() == 1);
  CHECK(dish.rounds[0].spots[0].facet.text == "A1");
  CHECK(dish.facet_types.size() == 1);
}

TEST_CASE("a layout of petals gives each ring's type its outline, and keeps its mirror") {
  dish::FacetType film = dish::default_facet_type();
  film.name = {"inner"};
  film.reflectance = 0.81;
  Dish dish = edited(edit::UpsertFacetType{film});
  const dish::PetalsLayout layout{
      .rings = {{.inner_radius_m = 0.2, .outer_radius_m = 0.45, .count = 8, .type = {"inner"}},
                {.inner_radius_m = 0.5, .outer_radius_m = 0.9, .count = 16, .type = {"outer"}}},
      .mount = {"M6"}};
  dish = edited(dish, edit::ReplaceFacets{layout});
  CHECK(dish.facets.size() == 24);
  const dish::FacetType* inner = dish::find_facet_type(dish, {"inner"});
  const dish::FacetType* outer = dish::find_facet_type(dish, {"outer"});
  REQUIRE(inner != nullptr);
  REQUIRE(outer != nullptr);
  CHECK(inner->reflectance == 0.81);
  CHECK(std::get<dish::AnnularSector>(inner->outline).outer_radius_m == 0.45);
  CHECK(std::get<dish::AnnularSector>(outer->outline).inner_radius_m == 0.5);
}

TEST_CASE("rounds and their spots") {
  Dish dish = with_round();
  dish = edited(dish, edit::SetSpot{0, {.facet = {"A1"}, .seen_m = {0.05, 0.06}}});
  REQUIRE(dish.rounds[0].spots.size() == 2);
  CHECK(dish.rounds[0].spots[0].seen_m.x == 0.05);
  dish = edited(dish, edit::SetSpot{0, {.facet = {"B7"}, .sigma_m = 0.001}});
  CHECK(dish.rounds[0].spots.size() == 3);
  dish = edited(dish, edit::RemoveSpot{0, {"A1"}});
  CHECK(dish.rounds[0].spots.size() == 2);
  dish = edited(dish, edit::ReplaceRound{0, {.name = "again", .source = dish::LaserSource{}}});
  CHECK(dish.rounds[0].name == "again");
  CHECK(dish.rounds[0].spots.empty());
  CHECK(edited(dish, edit::RemoveRound{0}).rounds.empty());
}

TEST_CASE("recorded turns are logged after earlier ones, and the screws stand where they are now") {
  edit::RecordTurns wish{.round = 0,
                         .turned = {{.facet = {"A1"}, .screw = "2", .turns = 0.5},
                                    {.facet = {"A1"}, .screw = "3", .turns = -0.25}},
                         .moved = {{{"A1"}, {0.0, 0.0005, -0.00025}}}};
  Dish dish = edited(with_round(), wish);
  CHECK(dish.rounds[0].turned.size() == 2);
  CHECK(facet(dish, "A1").displacement_m == std::array<double, 3>{0.0, 0.0005, -0.00025});
  dish = edited(dish, wish);
  CHECK(dish.rounds[0].turned.size() == 4);
}

TEST_CASE("things that shade") {
  Dish dish = edited(edit::AddBlocker{{"strut", dish::TubeBlocker{}}});
  REQUIRE(dish.blockers.size() == 1);
  dish = edited(dish, edit::ReplaceBlocker{0, {"hub", dish::DiscBlocker{.diameter_m = 0.3}}});
  CHECK(dish.blockers[0].name == "hub");
  CHECK(edited(dish, edit::RemoveBlocker{0}).blockers.empty());
}

TEST_CASE("everything at once") {
  Dish other = dish::default_dish();
  other.name = "Kiln Yard";
  CHECK(edited(edit::ReplaceDish{other}).name == "Kiln Yard");
}

TEST_CASE("edits have titles for the undo list") {
  CHECK(dish::title_of(edit::SetDisplacement{{"B4"}, 1, 0.001}) == "Turn screw 2 of facet B4");
  CHECK(dish::title_of(edit::SetFocalLength{1.0}) == "Set focal length");
  CHECK(dish::title_of(edit::SetSecondary{}) == "Remove the secondary");
  CHECK(dish::title_of(edit::SetSecondary{dish::Secondary{}}) == "Change the secondary");
  CHECK(dish::title_of(edit::ReplaceFacets{}) == "Lay out the facets");
  CHECK(dish::title_of(edit::SetSpot{0, {.facet = {"A1"}}}) == "Enter the spot of facet A1");
  CHECK(dish::title_of(edit::RecordTurns{.round = 2}) == "Log the turns of round 3");
  CHECK(dish::title_of(edit::UpsertMount{dish::default_mount()}) == "Change mount M6");
}
