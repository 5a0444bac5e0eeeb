// Dimensions of the demo dishes: invented, and sensible for their focal lengths (see each).
#include "support/demo_dishes.h"

#include <cmath>
#include <cstdint>

#include "base/check.h"
#include "base/units.h"
#include "dish/defaults.h"
#include "dish/recipes.h"

namespace support {
namespace {

using base::Vec2;
using base::Vec3;

double mm(double value) { return value / 1000.0; }

/// Whole numbers from a small generator that is the same everywhere.
class Dice {
 public:
  explicit Dice(std::uint32_t seed) : state_(seed) {}
  /// A whole number from -most to +most.
  int throw_between(int most) {
    state_ = state_ * 1664525U + 1013904223U;
    return static_cast<int>((state_ >> 8U) % static_cast<unsigned>(2 * most + 1)) - most;
  }

 private:
  std::uint32_t state_;
};

std::vector<dish::Facet> laid_out(const dish::Layout& layout, double focal_length_m) {
  auto facets = dish::lay_out(layout, focal_length_m);
  BASE_CHECK(facets.ok(), "the demo's layout can be laid out");
  return std::move(facets).value();
}

/// Lengths to a micrometre and angles to a thousandth of a degree, so that a file reads well.
void round_places(std::vector<dish::Facet>& facets) {
  for (dish::Facet& facet : facets) {
    for (int i = 0; i < 3; ++i) facet.centre_m[i] = std::nearbyint(facet.centre_m[i] * 1e6) / 1e6;
    const double deg = base::deg_from_rad(facet.clocking_rad);
    facet.clocking_rad = base::rad_from_deg(std::nearbyint(deg * 1e3) / 1e3);
  }
}

/// Screws off nominal by up to `most` hundredths of a millimetre, as caliper and hand leave them.
void displace(std::vector<dish::Facet>& facets, std::uint32_t seed, int most) {
  Dice dice(seed);
  for (dish::Facet& facet : facets) {
    for (double& displacement : facet.displacement_m) {
      displacement = dice.throw_between(most) / 100000.0;
    }
  }
}

dish::Blocker tube(const char* name, const Vec3& from_mm, const Vec3& to_mm, double diameter_mm) {
  return {.name = name,
          .shape = dish::TubeBlocker{
              .from_m = from_mm / 1000.0, .to_m = to_mm / 1000.0, .diameter_m = mm(diameter_mm)}};
}

/// Three screws A, B, C in a triangle that points up.
std::vector<dish::Adjuster> three_screws(const dish::Adjuster& common, double side_mm,
                                         double low_mm, double top_mm) {
  std::vector<dish::Adjuster> screws(3, common);
  for (std::size_t i = 0; i < screws.size(); ++i) screws[i].label = std::string(1, "ABC"[i]);
  screws[0].y_m = mm(top_mm);
  screws[1].x_m = mm(-side_mm);
  screws[2].x_m = mm(side_mm);
  screws[1].y_m = screws[2].y_m = mm(low_mm);
  return screws;
}

/// The sun seen with the dish pointing a little beside it, read by hand to the millimetre.
dish::Round first_look(const dish::Dish& dish) {
  dish::Round round{.name = "First look", .source = dish::SunSource{{0.0015, -0.0008}}};
  const Vec2 tracking_error = std::get<dish::SunSource>(round.source).tracking_error_rad;
  Dice dice(7);
  for (const dish::Facet& facet : dish.facets) {
    const Vec2 exact = larch_refuge_spot(dish, facet, tracking_error);
    // Reading errors of about 2 mm: the sum of three even throws.
    const auto reading = [&](double exact_m) {
      double sum_mm = 0.0;
      for (int i = 0; i < 3; ++i) sum_mm += dice.throw_between(20) / 10.0;
      return std::nearbyint(exact_m * 1000.0 + sum_mm) / 1000.0;
    };
    const double right = reading(exact.x);
    const double up = reading(exact.y);
    round.spots.push_back({.facet = facet.id, .seen_m = {right, up}, .sigma_m = mm(2)});
  }
  return round;
}

}  // namespace

Vec2 larch_refuge_spot(const dish::Dish& dish, const dish::Facet& facet,
                       const Vec2& tracking_error_rad) {
  const dish::Mount& mount = *dish::find_mount(dish, facet.mount);
  // The plane through the three screw ends, as height over the nominal one.
  const auto end = [&](std::size_t i) {
    return Vec3{mount.adjusters[i].x_m, mount.adjusters[i].y_m, facet.displacement_m[i]};
  };
  const Vec3 across = glm::cross(end(1) - end(0), end(2) - end(0));
  const Vec3 normal_facet = base::unit(across);
  const double rise = glm::dot(end(0), normal_facet) / normal_facet.z;

  // The facet's centre and normal in the dish: the face stands its offset before the ball plane.
  const Vec3 nominal = dish::prime_focus_normal(facet.centre_m, dish.focal_length_m);
  const base::Mat3 axes = base::frame_of_normal(nominal, facet.clocking_rad);
  const Vec3 normal = axes * normal_facet;
  const Vec3 centre = facet.centre_m + rise * nominal + mount.face_offset_m * (normal - nominal);

  // From the sun to the facet and on to the hyperboloid (z - zc)^2 / a^2 - r^2 / b^2 = 1.
  const Vec3 to_sun = base::unit({tracking_error_rad.x, tracking_error_rad.y, 1.0});
  const Vec3 d = base::reflect(-to_sun, normal);
  const auto& form = std::get<dish::HyperboloidSecondary>(dish.secondary->form);
  const double zc = 0.5 * (form.near_focus_z_m + form.far_focus_z_m);
  const double c = 0.5 * (form.near_focus_z_m - form.far_focus_z_m);
  const double a = dish.secondary->vertex_m.z - zc;
  const Vec3 weights{-1.0 / (c * c - a * a), -1.0 / (c * c - a * a), 1.0 / (a * a)};
  const Vec3 p = centre - Vec3{0.0, 0.0, zc};
  const double qa = glm::dot(weights * d, d);
  const double qb = glm::dot(weights * p, d);
  const double qc = glm::dot(weights * p, p) - 1.0;
  // Of the two hits the one on the upper sheet counts; it is the one with the larger z.
  const double root = std::sqrt(qb * qb - qa * qc);
  const double t1 = (-qb + root) / qa;
  const double t2 = (-qb - root) / qa;
  const Vec3 hit = p + (p.z + t1 * d.z > p.z + t2 * d.z ? t1 : t2) * d;

  // Down to the receiver's plane; on a board that faces up, right is +x and up is +y.
  const Vec3 e = base::reflect(d, base::unit(weights * hit));
  const double fall = (dish.receiver.centre_m.z - zc - hit.z) / e.z;
  return Vec2{hit + fall * e} - Vec2{dish.receiver.centre_m};
}

// Rings to 0.88 m, f/D = 1.1. The secondary at 1.62 m magnifies 4.1 times, so that the sun is a
// disc of 76 mm on the plate and 1.5 mrad of slope error smear it by 25 mm (one sigma): nearly all
// of it falls on the plate of 200 mm once the facets are aligned.
dish::Dish larch_refuge() {
  dish::Dish dish{.name = "Larch Refuge",
                  .note = "A mountain hut heats its wash water. Invented, as are all demo dishes.",
                  .focal_length_m = 2.0,
                  .site = {"Larch Refuge", 46.52, 9.87, 2140.0}};
  dish.facet_types = {{.name = {"hexagon 230"},
                       .outline = dish::Hexagon{mm(230)},
                       .surface = dish::Spherical{4.1},
                       .reflectance = 0.92,
                       .slope_error_rad = 0.0015,
                       .specularity_error_rad = 0.0003}};
  dish.springs = {dish::default_spring()};
  dish.mounts = {{.name = {"three M6"},
                  .adjusters = three_screws({}, 69.3, -40.0, 80.0),
                  .spring = dish.springs[0].name}};
  dish.secondary = dish::Secondary{.form = dish::HyperboloidSecondary{2.0, 0.06},
                                   .vertex_m = {0.0, 0.0, 1.62},
                                   .diameter_m = mm(380),
                                   .reflectance = 0.92,
                                   .slope_error_rad = 0.0005,
                                   .specularity_error_rad = 0.0003};
  dish.receiver = {.shape = dish::DiscReceiver{mm(200)},
                   .centre_m = {0.0, 0.0, 0.06},
                   .lit_normal = {0.0, 0.0, 1.0},
                   .absorptance = 0.93};
  dish.blockers = {tube("hub", {0, 0, -120}, {0, 0, 50}, 180),
                   tube("strut top", {0, 930, 90}, {0, 185, 1640}, 18),
                   tube("strut left", {-805.4, -465, 90}, {-160.2, -92.5, 1640}, 18),
                   tube("strut right", {805.4, -465, 90}, {160.2, -92.5, 1640}, 18)};
  const dish::RingsLayout layout{
      .pitch_m = mm(250), .type = dish.facet_types[0].name, .mount = dish.mounts[0].name};
  dish.facets = laid_out(layout, dish.focal_length_m);
  round_places(dish.facets);
  displace(dish.facets, 36, 35);
  dish.rounds = {first_look(dish)};
  return dish;
}

// A flat facet of 200 mm throws a patch of about 225 mm, a hollow one an image of the sun of 24 mm;
// both fall on a panel of 300 mm, which the clay wants warm all over rather than hot in the middle.
dish::Dish kiln_yard() {
  dish::Dish dish{.name = "Kiln Yard",
                  .note = "A pottery dries clay on a panel at the focus.",
                  .focal_length_m = 2.5,
                  .site = {"Kiln Yard", 38.14, -3.41, 560.0}};
  const dish::FacetType flat{.name = {"flat 200"},
                             .outline = dish::Rectangle{mm(200), mm(200)},
                             .surface = dish::Flat{},
                             .reflectance = 0.88,
                             .slope_error_rad = 0.002};
  dish::FacetType hollow = flat;
  hollow.name = {"hollow 200"};
  hollow.surface = dish::Spherical{5.1};
  hollow.slope_error_rad = 0.003;
  dish.facet_types = {flat, hollow};
  dish.mounts = {{.name = {"three M8"},
                  .lie = dish::BracketLie::aperture,
                  .face_offset_m = mm(10),
                  .standoff_m = mm(35),
                  .clicks_per_turn = 6,
                  .adjusters = three_screws({.pitch_m = 0.00125,
                                             .carry = dish::Carry::against,
                                             .travel_min_m = mm(-8),
                                             .travel_max_m = mm(8)},
                                            60, -60, 60)}};
  dish.receiver = {.shape = dish::RectangleReceiver{mm(300), mm(300)},
                   .centre_m = {0.0, 0.0, 2.5},
                   .absorptance = 0.9};
  dish.blockers = {tube("leg 1", {600, 600, 0}, {150, 150, 2520}, 25),
                   tube("leg 2", {-600, 600, 0}, {-150, 150, 2520}, 25),
                   tube("leg 3", {-600, -600, 0}, {-150, -150, 2520}, 25),
                   tube("leg 4", {600, -600, 0}, {150, -150, 2520}, 25)};
  const dish::LatticeLayout layout{.column_pitch_m = mm(212),
                                   .row_pitch_m = mm(212),
                                   .free_within_m = mm(100),
                                   .type = hollow.name,
                                   .mount = dish.mounts[0].name};
  dish.facets = laid_out(layout, dish.focal_length_m);
  round_places(dish.facets);
  for (dish::Facet& facet : dish.facets) {
    if (glm::length(Vec2{facet.centre_m}) < mm(320)) facet.type = flat.name;
  }
  displace(dish.facets, 24, 12);
  return dish;
}

// Rings from 0.25 to 0.8 m, f/D = 0.75. The sun's image is about 13 mm and 3 mrad of slope error
// smear it by 9 mm (one sigma) at the outer ring: the mouth of 120 mm takes nearly all of it even
// before the petals are aligned to a hair.
dish::Dish orchard_dryer() {
  dish::Dish dish{.name = "Orchard Dryer",
                  .note = "Fruit is dried with air that a cavity heats.",
                  .focal_length_m = 1.2,
                  .site = {"Orchard Dryer", 41.37, 43.06, 810.0}};
  dish.mounts = {{.name = {"three M6 fine"},
                  .adjusters = three_screws({.pitch_m = 0.0005}, 69.3, -40.0, 80.0)}};
  dish.receiver = {
      .shape = dish::DiscReceiver{mm(120)}, .centre_m = {0.0, 0.0, 1.2}, .absorptance = 0.96};
  dish.blockers = {tube("cavity", {0, 0, 1205}, {0, 0, 1400}, 240),
                   tube("arm top", {0, 840, 140}, {0, 118, 1300}, 20),
                   tube("arm left", {-727.5, -420, 140}, {-102.2, -59, 1300}, 20),
                   tube("arm right", {727.5, -420, 140}, {102.2, -59, 1300}, 20)};
  const dish::PetalsLayout layout{
      .rings = {{mm(250), mm(500), 8, 0.0, {"inner petal"}},
                {mm(515), mm(800), 16, base::rad_from_deg(11.25), {"outer petal"}}},
      .gap_m = mm(8),
      .mount = dish.mounts[0].name};
  for (std::size_t ring = 0; ring < layout.rings.size(); ++ring) {
    auto outline = dish::petal_outline(layout, ring, dish.focal_length_m);
    BASE_CHECK(outline.ok(), "the demo's petals can be cut");
    dish::AnnularSector sector = std::move(outline).value();
    // Down to a tenth of a degree: petals are cut to a drawing, and the gap only grows.
    const double tenths = std::floor(base::deg_from_rad(sector.opening_rad) * 10.0);
    sector.opening_rad = base::rad_from_deg(tenths / 10.0);
    dish.facet_types.push_back({.name = layout.rings[ring].type,
                                .outline = sector,
                                .surface = dish::OffAxisParaboloid{.focal_length_m = 1.2},
                                .reflectance = 0.86,
                                .slope_error_rad = 0.003});
  }
  dish.facets = laid_out(layout, dish.focal_length_m);
  round_places(dish.facets);
  displace(dish.facets, 48, 20);
  return dish;
}

}  // namespace support
