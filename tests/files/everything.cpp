// Built by hand so that reader and writer are not tested with their own words.
#include "everything.h"

#include "base/units.h"
#include "files/dish_write.h"

namespace everything {
namespace {

std::vector<dish::FacetType> facet_types() {
  return {
      {.name = {"hexagon"}, .outline = dish::Hexagon{0.2301}, .surface = dish::Flat{}},
      {.name = {"rectangle"},
       .outline = dish::Rectangle{0.2, 0.1},
       .surface = dish::Spherical{-4.25},
       .reflectance = 0.875},
      {.name = {"disc"}, .outline = dish::Disc{0.15}, .surface = dish::Paraboloid{1.9}},
      {.name = {"petal \"A\"/1"},
       .outline = dish::AnnularSector{0.25, 0.5, base::rad_from_deg(43.7)},
       .surface = dish::OffAxisParaboloid{2.0, 0.375, base::rad_from_deg(-30.0)},
       .slope_error_rad = 0.0033,
       .specularity_error_rad = 0.00047},
      {.name = {"M\xC3\xB6"
                "bius"},
       .outline = dish::Polygon{{{-0.1, -0.1}, {0.12, -0.1}, {0.0, 0.11}}},
       .surface = dish::OffAxisParaboloid{.focal_length_m = 2.25}},
  };
}

std::vector<dish::Mount> mounts() {
  dish::Mount three{.name = {"three M6"}, .spring = {"soft"}};
  three.adjusters = {{.label = "top", .x_m = 0.0, .y_m = 0.08},
                     {.label = "left",
                      .x_m = -0.0693,
                      .y_m = -0.04,
                      .pitch_m = 0.0007,
                      .hand = dish::Hand::left,
                      .turned_from = dish::Side::front,
                      .carry = dish::Carry::against,
                      .travel_min_m = -0.0045,
                      .travel_max_m = 0.0055},
                     {.label = "right", .x_m = 0.0693, .y_m = -0.04, .pitch_m = 0.00125}};
  dish::Mount plate = three;
  plate.name = {"plate"};
  plate.lie = dish::BracketLie::aperture;
  plate.face_offset_m = 0.0105;
  plate.standoff_m = 0.041;
  plate.caliper_offset_m = -0.0032;
  plate.clicks_per_turn = 8;
  plate.backlash_turns = 0.25;
  plate.spring = {""};
  return {three, plate};
}

std::vector<dish::Facet> facets() {
  dish::Facet plain{
      .id = {"A1"}, .type = {"hexagon"}, .mount = {"three M6"}, .centre_m = {0.25, 0.0, 0.0078125}};
  dish::Facet full{.id = {"A 2"},
                   .type = {"petal \"A\"/1"},
                   .mount = {"plate"},
                   .centre_m = {-0.25, 0.1, 0.1 / 3.0},
                   .clocking_rad = 1.234567890123,
                   .aim_m = {0.01, -0.02},
                   .normal = base::unit({0.1, -0.2, 1.0}),
                   .bracket = dish::Bracket{{-0.25, 0.1, -0.03}, {1, 0, 0}, {0.1, 0.99, 0.0}},
                   .displacement_m = {0.0001, -0.00035, 1.0 / 3000.0}};
  dish::Facet bare{.id = {"C\xC3\xA9"}, .type = {"disc"}, .centre_m = {0.0, 0.4, 0.02}};
  dish::Facet left = plain;
  left.id = {"D4"};
  left.type = {"rectangle"};
  left.centre_m = {0.0, -0.4, 0.02};
  dish::Facet last = left;
  last.id = {"E5"};
  last.type = {
      "M\xC3\xB6"
      "bius"};
  last.centre_m = {0.5, -0.4, 0.05};
  return {plain, full, bare, left, last};
}

std::vector<dish::Round> rounds() {
  dish::Round sun{.name = "sun", .source = dish::SunSource{{0.0015, -0.0008}}};
  sun.spots = {{.facet = {"A1"}, .seen_m = {0.012, -0.0305}},
               {.facet = {"A 2"}, .seen_m = {-0.04, 0.0}, .sigma_m = 0.0025}};
  sun.turned = {{.facet = {"A1"}, .screw = "top", .turns = -0.25},
                {.facet = {"A1"}, .screw = "left", .turns = 1.5}};
  sun.told = {{.facet = {"A1"}, .screw = "top", .turns = 0.25}};
  sun.left_out = {true, true, false, true, false, true};
  sun.note = "A \"windy\" day.";
  dish::Round laser{.name = "laser", .source = dish::LaserSource{}};
  laser.board = dish::Board{{0.0, 0.0, 1.5}, {0.0, 0.0, -1.0}, {0.0, 2.0, 0.5}};
  dish::Round lamp{.name = "lamp", .source = dish::LampSource{{0.5, -0.25, 31.5}}};
  return {sun, laser, lamp};
}

std::string with_layout(const std::string& layout) {
  return R"({"format": "facetwright dish", "version": 1, "layout": )" + layout + "}";
}

}  // namespace

dish::Dish dish() {
  dish::Dish dish{.name = "Everything \"at\" once",
                  .note = "Two\nlines, and a tab\t.",
                  .focal_length_m = 2.05,
                  .sun = {0.00471, 875.5},
                  .site = {"Nowhere", -12.345678, 179.5, -3.5}};
  dish.facet_types = facet_types();
  dish.mounts = mounts();
  dish.springs = {{.name = {"soft"},
                   .free_length_m = 0.0315,
                   .solid_length_m = 0.011,
                   .installed_length_m = 0.0225,
                   .rate_N_m = 1234.5,
                   .least_force_N = 1.5,
                   .pushes_to_sun = true}};
  dish.facets = facets();
  dish.secondary = dish::Secondary{.form = dish::HyperboloidSecondary{2.05, 0.06},
                                   .vertex_m = {0.001, -0.002, 1.62},
                                   .tilt_rad = {0.0005, -0.00025},
                                   .diameter_m = 0.38,
                                   .hole_diameter_m = 0.02,
                                   .reflectance = 0.91,
                                   .slope_error_rad = 0.0004,
                                   .specularity_error_rad = 0.0002};
  dish.receiver = {.shape = dish::RectangleReceiver{0.21, 0.19},
                   .centre_m = {0.0, 0.003, 0.06},
                   .lit_normal = base::unit({0.0, 0.1, 1.0}),
                   .up = {0.0, 1.0, 0.25},
                   .absorptance = 0.875,
                   .shades = false};
  dish.blockers = {
      {.name = "hub", .shape = dish::DiscBlocker{{0.0, 0.0, 1.7}, {0.0, 0.6, 0.8}, 0.15}},
      {.name = "box",
       .shape = dish::BoxBlocker{{0.1, 0.2, 0.3}, {0, 1, 0}, {-1, 0, 0}, {0.1, 0.2, 0.35}}},
      {.name = "strut", .shape = dish::TubeBlocker{{0.9, 0.0, 0.1}, {0.2, 0.0, 1.6}, 0.018}}};
  dish.rounds = rounds();
  return dish;
}

std::vector<dish::Dish> mirrors_and_suns() {
  std::vector<dish::Dish> dishes(4, dish());
  dishes[0].sun.shape = dish::LimbDarkenedSun{0.61};
  dishes[1].sun.shape = dish::GaussianSun{0.00275};
  dishes[2].sun.shape = dish::CircumsolarSun{0.075};
  dish::FacetType& hexagon = dishes[1].facet_types[0];
  hexagon.coating = dish::Coating{dish::Metal::aluminium, dish::Cover::acrylic, 0.0025};
  hexagon.cleanliness = 0.93;
  hexagon.form_error = {.defocus_m = 0.00013,
                        .astigmatism_0_m = -0.00021,
                        .astigmatism_45_m = 0.00007,
                        .trefoil_0_m = 0.00001,
                        .trefoil_30_m = -0.00003,
                        .roll_off = dish::EdgeRollOff{0.0125, 0.0045}};
  dish::FacetType& disc = dishes[2].facet_types[2];
  disc.coating = dish::Coating{dish::Metal::copper};
  disc.form_error.sag_map = std::make_shared<const dish::SagMap>(
      dish::SagMap{{-0.08, -0.08}, {0.16, 0.08}, 2, 3, {0.0, 1e-5, -2e-5, 3.3e-6, 0.0, 1e-4}});
  dishes[2].secondary->coating = dish::Coating{dish::Metal::silver, dish::Cover::glass, 0.004};
  dishes[2].secondary->cleanliness = 0.97;
  dishes[3].facets[0].sag_map = std::make_shared<const dish::SagMap>(
      dish::SagMap{{-0.15, -0.15}, {0.1, 0.3}, 4, 2, std::vector<double>(8, -0.00025)});
  return dishes;
}

std::vector<std::string> texts() {
  std::vector<std::string> texts;
  dish::Dish one = dish();
  texts.push_back(files::write_dish(one));
  for (const dish::Dish& other : mirrors_and_suns()) texts.push_back(files::write_dish(other));
  one.receiver.shape = dish::DiscReceiver{0.2};
  for (const dish::SecondaryForm& form : {dish::SecondaryForm{dish::FlatSecondary{}},
                                          dish::SecondaryForm{dish::EllipsoidSecondary{1.5, 0.1}},
                                          dish::SecondaryForm{dish::SphereSecondary{-1.5}},
                                          dish::SecondaryForm{dish::ParaboloidSecondary{0.75}}}) {
    one.secondary->form = form;
    texts.push_back(files::write_dish(one));
  }
  texts.push_back(
      with_layout(R"({"kind": "rings", "rings": 2, "left_out": [0], "pitch_mm": 250})"));
  texts.push_back(with_layout(R"({"kind": "rings", "frame": "sphere", "frame_radius_m": 4})"));
  texts.push_back(with_layout(
      R"({"kind": "lattice", "columns": 3, "rows": 3, "column_pitch_mm": 240, "row_pitch_mm": 240,
          "free_within_mm": 10, "free_beyond_mm": 900, "frame": "flat", "frame_z_mm": 5})"));
  texts.push_back(with_layout(
      R"({"kind": "petals", "mount": "M6", "gap_mm": 8, "frame": "paraboloid", "petal_rings": [
          {"inner_radius_mm": 250, "outer_radius_mm": 500, "petals": 8, "first_deg": 0,
           "type": "inner"}]})"));
  return texts;
}

std::string minimal_text() {
  return "{\n"
         "  \"format\": \"facetwright dish\",\n"
         "  \"version\": 1,\n"
         "  \"layout\": {\"kind\": \"rings\", \"rings\": 1}\n"
         "}\n";
}

}  // namespace everything
