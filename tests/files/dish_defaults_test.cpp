// What need not be said in a dish file, and what then holds.
#include <doctest/doctest.h>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "everything.h"
#include "files/dish_read.h"
#include "files/dish_write.h"

namespace {

dish::Dish dish_of(const std::string& members) {
  const std::string text = R"({"format": "facetwright dish", "version": 1)" +
                           (members.empty() ? "" : ", " + members) + "}";
  base::Result<files::ReadDish> result = files::read_dish(text, "t.dish.json");
  REQUIRE_MESSAGE(result.ok(), base::to_text(result.ok() ? base::Problems{} : result.problems()));
  return std::move(result).value().dish;
}

}  // namespace

TEST_CASE("a minimal file is four lines and gives six facets that can be worked with") {
  const auto result = files::read_dish(everything::minimal_text(), "small.dish.json");
  REQUIRE(result.ok());
  const dish::Dish& dish = result.value().dish;
  CHECK(dish.facets.size() == 6);
  CHECK(dish.facet_types.size() == 1);
  CHECK(dish.mounts.size() == 1);
  CHECK(dish.mounts[0].adjusters.size() == 3);
  CHECK(dish.springs.size() == 1);
  CHECK(dish::errors_of(dish).empty());
  REQUIRE(result.value().notes.size() == 1);
  CHECK(result.value().notes[0] == "small.dish.json, line 4, layout: laid out as 6 facets");
}

TEST_CASE("a layout expands once: the file that is written lists its facets") {
  const auto first = files::read_dish(everything::minimal_text(), "t.dish.json");
  REQUIRE(first.ok());
  const std::string text = files::write_dish(first.value().dish);
  CHECK(text.find("layout") == std::string::npos);
  CHECK(text.find("\"A6\"") != std::string::npos);
  const auto second = files::read_dish(text, "t.dish.json");
  REQUIRE(second.ok());
  CHECK(second.value().notes.empty());
  CHECK(files::write_dish(second.value().dish) == text);
}

TEST_CASE("the default layout of three rings is the default dish's") {
  const dish::Dish dish = dish_of(R"("layout": {"kind": "rings"})");
  const dish::Dish expected = dish::default_dish();
  REQUIRE(dish.facets.size() == expected.facets.size());
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    CHECK(dish.facets[i].centre_m == expected.facets[i].centre_m);
  }
}

TEST_CASE("petals get an outline for each ring") {
  const dish::Dish dish = dish_of(
      R"("layout": {"kind": "petals", "petal_rings": [
         {"inner_radius_mm": 250, "outer_radius_mm": 500, "petals": 8},
         {"inner_radius_mm": 510, "outer_radius_mm": 800, "petals": 16, "type": "outer"}]})");
  CHECK(dish.facets.size() == 24);
  CHECK(dish.facet_types.size() == 2);
  CHECK(dish.facet_types[1].name.text == "outer");
  CHECK(std::holds_alternative<dish::AnnularSector>(dish.facet_types[0].outline));
}

TEST_CASE("a layout beside listed facets is kept, not used, and told") {
  const std::string text =
      R"({"format": "facetwright dish", "version": 1, "layout": {"kind": "rings"},
          "facets": [{"id": "A1", "centre_mm": [250, 0, 8]}]})";
  const auto result = files::read_dish(text, "t.dish.json");
  REQUIRE(result.ok());
  CHECK(result.value().dish.facets.size() == 1);
  REQUIRE(result.value().notes.size() == 1);
  CHECK(result.value().notes[0].find("not used") != std::string::npos);
  const std::string written = files::write_dish(result.value().dish);
  CHECK(written.find("\"layout\": {\"kind\": \"rings\"}") != std::string::npos);
}

TEST_CASE("the only type and the only mount need not be named") {
  const dish::Dish dish = dish_of(
      R"("facet_types": {"tile": {}}, "mounts": {"M": {"adjusters": [
         {"x_mm": 0, "y_mm": 80}, {"x_mm": -70, "y_mm": -40}, {"x_mm": 70, "y_mm": -40}]}},
         "facets": [{"id": "A1", "centre_mm": [250, 0, 8]}])");
  CHECK(dish.facets[0].type.text == "tile");
  CHECK(dish.facets[0].mount.text == "M");
  CHECK(dish.mounts[0].adjusters[2].label == "3");
  CHECK(dish.mounts[0].spring.text.empty());
}

TEST_CASE("surfaces follow the focal length of the dish") {
  const dish::Dish dish = dish_of(
      R"("focal_length_m": 3, "facet_types": {"a": {}, "b": {"surface": {"form": "spherical"}},
         "c": {"surface": {"form": "paraboloid"}}, "d": {"surface": {"form": "off-axis paraboloid"}}}, "layout": {"kind": "rings", "type": "a"})");
  CHECK(std::get<dish::Spherical>(dish.facet_types[0].surface).radius_m == 6.0);
  CHECK(std::get<dish::Spherical>(dish.facet_types[1].surface).radius_m == 6.0);
  CHECK(std::get<dish::Paraboloid>(dish.facet_types[2].surface).focal_length_m == 3.0);
  CHECK(std::get<dish::OffAxisParaboloid>(dish.facet_types[3].surface).focal_length_m == 3.0);
}

TEST_CASE("a receiver that does not say where it stands is where the light gathers") {
  dish::Dish dish = dish_of(R"("focal_length_m": 3)");
  CHECK(dish.receiver.centre_m == base::Vec3{0.0, 0.0, 3.0});
  CHECK(dish.receiver.lit_normal == base::Vec3{0.0, 0.0, -1.0});
  dish = dish_of(R"("secondary": {"form": "hyperboloid", "vertex_mm": [0, 0, 1600]})");
  CHECK(dish.receiver.centre_m == base::Vec3{0.0, 0.0, 0.1});
  CHECK(dish.receiver.lit_normal == base::Vec3{0.0, 0.0, 1.0});
  CHECK(std::get<dish::HyperboloidSecondary>(dish.secondary->form).near_focus_z_m == 2.0);
  // A flat mirror at 1.2 m brings the focus at 2 m down to 0.4 m.
  dish = dish_of(R"("secondary": {"form": "flat", "vertex_mm": [0, 0, 1200]})");
  CHECK(dish.receiver.centre_m.z == doctest::Approx(0.4).epsilon(1e-15));
}

TEST_CASE("a file that says nothing is the default dish of three rings") {
  const dish::Dish dish = dish_of("");
  CHECK(dish.name == "New dish");
  CHECK(files::write_dish(dish) == files::write_dish(dish::default_dish()));
}

TEST_CASE("an empty list of facets is refused") {
  const auto result = files::read_dish(
      R"({"format": "facetwright dish", "version": 1, "facets": []})", "t.dish.json");
  REQUIRE(!result.ok());
  CHECK(base::to_text(result.problems()).find("at least one facet") != std::string::npos);
}
