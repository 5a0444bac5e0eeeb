// Laws of the dish file: what is written reads back to the last bit, and always as the same bytes.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "base/units.h"
#include "dish/checks.h"
#include "dish/defaults.h"
#include "everything.h"
#include "files/dish_read.h"
#include "files/dish_write.h"
#include "files/plain_text.h"
#include "support/paths.h"

namespace {

files::ReadDish read_back(const std::string& text) {
  base::Result<files::ReadDish> read = files::read_dish(text, "t.dish.json");
  REQUIRE_MESSAGE(read.ok(), base::to_text(read.ok() ? base::Problems{} : read.problems()));
  return std::move(read).value();
}

bool same(const dish::Facet& a, const dish::Facet& b) {
  const auto same_bracket = [&] {
    if (a.bracket.has_value() != b.bracket.has_value()) return false;
    return !a.bracket || (a.bracket->origin_m == b.bracket->origin_m &&
                          a.bracket->x == b.bracket->x && a.bracket->y == b.bracket->y);
  };
  return a.id == b.id && a.type == b.type && a.mount == b.mount && a.centre_m == b.centre_m &&
         a.clocking_rad == b.clocking_rad && a.aim_m == b.aim_m && a.normal == b.normal &&
         same_bracket() && a.displacement_m == b.displacement_m;
}

}  // namespace

TEST_CASE("the dish of everything has no errors and survives its file bit by bit") {
  const dish::Dish dish = everything::dish();
  const base::Problems errors = dish::errors_of(dish);
  REQUIRE_MESSAGE(errors.empty(), base::to_text(errors));
  const std::string text = files::write_dish(dish);
  const files::ReadDish read = read_back(text);
  CHECK(read.notes.empty());
  CHECK(files::write_dish(read.dish) == text);

  // The text is exact (see decimal_test), so equal bytes mean equal dishes; the parts that are
  // left out when they say nothing are compared one by one.
  REQUIRE(read.dish.facets.size() == dish.facets.size());
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    CHECK(same(read.dish.facets[i], dish.facets[i]));
  }
  CHECK(read.dish.name == dish.name);
  CHECK(read.dish.note == dish.note);
  CHECK(read.dish.focal_length_m == dish.focal_length_m);
  CHECK(read.dish.receiver.lit_normal == dish.receiver.lit_normal);
  CHECK(read.dish.receiver.up == dish.receiver.up);
  CHECK(read.dish.mounts[0].adjusters[1].pitch_m == 0.0007);
  CHECK(read.dish.mounts[1].spring.text.empty());
  CHECK(read.dish.springs[0].rate_N_m == 1234.5);
  CHECK(!read.dish.facet_types[0].name.text.empty());
  const auto& open_petal = std::get<dish::OffAxisParaboloid>(read.dish.facet_types[4].surface);
  CHECK(!open_petal.off_axis_m);
  CHECK(!open_petal.meridian_rad);
  CHECK(!read.dish.rounds[0].spots[0].sigma_m);
  CHECK(read.dish.rounds[0].spots[1].sigma_m == 0.0025);
  CHECK(!read.dish.rounds[0].board);
  CHECK(read.dish.rounds[1].board->up == base::Vec3{0.0, 2.0, 0.5});
}

TEST_CASE("suns, coatings and form errors survive their file bit by bit") {
  const std::vector<dish::Dish> dishes = everything::mirrors_and_suns();
  for (const dish::Dish& dish : dishes) {
    const base::Problems errors = dish::errors_of(dish);
    REQUIRE_MESSAGE(errors.empty(), base::to_text(errors));
    const std::string text = files::write_dish(dish);
    CHECK(files::write_dish(read_back(text).dish) == text);
  }
  const auto read = [&](std::size_t k) { return read_back(files::write_dish(dishes[k])).dish; };
  CHECK(std::get<dish::LimbDarkenedSun>(read(0).sun.shape).coefficient == 0.61);
  CHECK(std::get<dish::GaussianSun>(read(1).sun.shape).sigma_rad == 0.00275);
  CHECK(std::get<dish::CircumsolarSun>(read(2).sun.shape).ratio == 0.075);
  const dish::FacetType hexagon = read(1).facet_types[0];
  CHECK(hexagon.coating->metal == dish::Metal::aluminium);
  CHECK(hexagon.coating->cover == dish::Cover::acrylic);
  CHECK(hexagon.coating->thickness_m == 0.0025);
  CHECK(hexagon.cleanliness == 0.93);
  CHECK(hexagon.form_error.astigmatism_45_m == 0.00007);
  CHECK(hexagon.form_error.roll_off->slope_rad == 0.0045);
  const dish::SagMap map = *read(2).facet_types[2].form_error.sag_map;
  CHECK(map.columns == 2);
  CHECK(map.rows == 3);
  CHECK(map.sag_m == std::vector<double>{0.0, 1e-5, -2e-5, 3.3e-6, 0.0, 1e-4});
  CHECK(read(2).secondary->cleanliness == 0.97);
  CHECK(read(3).facets[0].sag_map->step_m == base::Vec2(0.1, 0.3));
}

TEST_CASE("a file without a sun's shape, a coating or a form error says none") {
  const std::string text = files::write_dish(everything::dish());
  for (const char* key :
       {"\"shape\": \"pillbox\"", "coating", "cleanliness", "form_error", "sag_map"}) {
    CHECK(text.find(key) == std::string::npos);
  }
}

TEST_CASE("the dish of everything is written as the bytes it always was") {
  const std::string path = support::source_path("tests/fixtures/everything.dish.json");
  CHECK(files::write_dish(everything::dish()) == support::read_whole_file(path));
}

TEST_CASE("every secondary and layout reads, and reads the same a second time") {
  for (const std::string& text : everything::texts()) {
    const std::string once = files::write_dish(read_back(text).dish);
    CHECK(files::write_dish(read_back(once).dish) == once);
  }
}

TEST_CASE("a hundred random dishes survive their files") {
  std::mt19937_64 bits(11);
  const auto within = [&](double least, double most) {
    return least + (most - least) * static_cast<double>(bits() >> 11U) * 0x1p-53;
  };
  for (int round = 0; round < 100; ++round) {
    dish::Dish dish = dish::default_dish();
    dish.sun.half_angle_rad = within(0.001, 0.01);
    dish.receiver.centre_m = {within(-1, 1), within(-1, 1), within(1, 3)};
    dish.mounts[0].adjusters[0].pitch_m = within(0.0003, 0.002);
    dish.springs[0].rate_N_m = within(10, 10000);
    for (dish::Facet& facet : dish.facets) {
      facet.clocking_rad = within(-6, 6);
      facet.aim_m = {within(-0.1, 0.1), within(-0.1, 0.1)};
      facet.normal = base::unit({within(-0.5, 0.5), within(-0.5, 0.5), 1.0});
      for (double& displacement : facet.displacement_m) displacement = within(-0.001, 0.001);
    }
    const files::ReadDish read = read_back(files::write_dish(dish));
    for (std::size_t i = 0; i < dish.facets.size(); ++i) {
      REQUIRE(same(read.dish.facets[i], dish.facets[i]));
    }
    REQUIRE(read.dish.sun.half_angle_rad == dish.sun.half_angle_rad);
    REQUIRE(read.dish.receiver.centre_m == dish.receiver.centre_m);
    REQUIRE(read.dish.mounts[0].adjusters[0].pitch_m == dish.mounts[0].adjusters[0].pitch_m);
    REQUIRE(read.dish.springs[0].rate_N_m == dish.springs[0].rate_N_m);
  }
}

TEST_CASE("order of keys, spaces, line ends and a byte-order mark do not matter") {
  const std::string once = files::write_dish(everything::dish());
  std::string crlf = "\xEF\xBB\xBF";
  for (const char c : once) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  CHECK(files::write_dish(read_back(crlf).dish) == once);
  const std::string ordered =
      R"({"format": "facetwright dish", "version": 1, "focal_length_m": 3, "name": "x"})";
  const std::string turned =
      R"({"name":"x","focal_length_m":3.0e0,"version":1.0,"format":"facetwright dish"})";
  CHECK(files::write_dish(read_back(ordered).dish) == files::write_dish(read_back(turned).dish));
}

TEST_CASE("the text is plain: LF, a final newline, one line for each facet, 0.7 for 0.7 mm") {
  const std::string text = files::write_dish(everything::dish());
  CHECK(text.find('\r') == std::string::npos);
  CHECK(text.back() == '\n');
  CHECK(text.find("\"pitch_mm\": 0.7,") != std::string::npos);
  CHECK(text.find("\"opening_deg\": 43.7") != std::string::npos);
  CHECK(text.find("    {\"id\": \"A1\", \"type\": \"hexagon\", \"mount\": \"three M6\", "
                  "\"centre_mm\": [250, 0, 7.8125]},\n") != std::string::npos);
}

TEST_CASE("directions of any length are taken as unit vectors") {
  const std::string text =
      R"({"format": "facetwright dish", "version": 1, "receiver": {"lit_normal": [0, 3, -4]}})";
  const files::ReadDish read = read_back(text);
  CHECK(read.dish.receiver.lit_normal.y == doctest::Approx(0.6).epsilon(1e-15));
  CHECK(read.dish.receiver.lit_normal.z == doctest::Approx(-0.8).epsilon(1e-15));
}

TEST_CASE("ten thousand facets survive their file") {
  dish::Dish dish = dish::default_dish();
  const dish::Facet common = dish.facets.front();
  dish.facets.clear();
  for (int i = 0; i < 10000; ++i) {
    dish::Facet facet = common;
    facet.id = {"F" + std::to_string(i)};
    facet.centre_m = {0.3 * (i % 100), 0.3 * (i / 100), 0.01 / 3.0 * i};
    facet.displacement_m = {1e-5 * i, -1e-6 * i / 7.0, 0.0};
    dish.facets.push_back(facet);
  }
  const std::string text = files::write_dish(dish);
  const files::ReadDish read = read_back(text);
  CHECK(read.dish.facets.size() == 10000);
  CHECK(files::write_dish(read.dish) == text);
}
