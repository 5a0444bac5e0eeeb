// The secondary from what a person knows: every pair against the telescopes of textbooks.
#include "optics/two_mirror.h"

#include <cmath>

#include "base/units.h"
#include "dish/defaults.h"
#include "optics/scene.h"
#include "references/optics/concentrators.h"
#include "references/optics/telescopes.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using optics::MirrorForm;
using optics::TwoMirrorWishes;

TwoMirrorWishes start(const references::TwoMirror& row) {
  TwoMirrorWishes wishes;
  wishes.form = row.is_gregory ? MirrorForm::ellipsoid : MirrorForm::hyperboloid;
  wishes.focal_length_m = row.f1;
  wishes.aperture_radius_m = 0.5 * row.d1;
  return wishes;
}

/// All six pairs of magnification, receiver, place and radius.
std::vector<TwoMirrorWishes> pairs(const references::TwoMirror& row) {
  std::vector<TwoMirrorWishes> all;
  for (int first = 0; first < 4; ++first) {
    for (int second = first + 1; second < 4; ++second) {
      TwoMirrorWishes wishes = start(row);
      for (const int known : {first, second}) {
        if (known == 0) wishes.magnification = row.m;
        if (known == 1) wishes.receiver_z_m = -row.b;
        if (known == 2) wishes.secondary_z_m = row.separation;
        if (known == 3) wishes.radius_m = row.r2;
      }
      all.push_back(wishes);
    }
  }
  return all;
}

void check_row(const optics::TwoMirror& solved, const references::TwoMirror& row,
               double tolerance) {
  CHECK(solved.magnification == doctest::Approx(row.m).epsilon(tolerance));
  CHECK(std::abs(solved.receiver_z_m + row.b) < tolerance);
  CHECK(std::abs(solved.secondary.vertex_m.z - row.separation) < tolerance);
  CHECK(std::abs(std::abs(solved.vertex_radius_m) - row.r2) < tolerance);
  CHECK(solved.vertex_radius_m * (row.is_gregory ? -1.0 : 1.0) > 0.0);
  CHECK(solved.conic_constant == doctest::Approx(row.k2).epsilon(2.0 * tolerance));
  CHECK(solved.height_ratio == doctest::Approx(row.k).epsilon(2.0 * tolerance));
  CHECK(std::abs(solved.edge_radius_m - row.edge_x) < tolerance);
  CHECK(std::abs(solved.edge_z_m - row.edge_z) < tolerance);
  CHECK(std::abs(base::deg_from_rad(solved.rim_angle_rad) - row.phi_deg) < 1e-6);
  CHECK(std::abs(base::deg_from_rad(solved.arriving_rim_angle_rad) - row.phi2_deg) <
        1e-6 + 60.0 * tolerance);
  CHECK(solved.rim_miss_m < 1e-12 + 10.0 * tolerance);
}

std::string problem_of(const TwoMirrorWishes& wishes) {
  const auto solved = optics::solve_two_mirror(wishes);
  return solved ? "none" : base::to_text(solved.problems());
}

}  // namespace

// Sources and tolerance: references/optics/concentrators.h. What is known is rounded to 1e-6 for
// the height ratio only, so places come out to rounding of the table's edge, 5e-9, times the
// leverage.
TEST_CASE("any two of magnification, receiver, place and radius give the textbook's telescope") {
  for (const auto& row : references::k_two_mirrors) {
    for (const TwoMirrorWishes& wishes : pairs(row)) {
      CAPTURE(row.m);
      CAPTURE(row.is_gregory);
      CAPTURE(wishes.magnification.value_or(0.0));
      CAPTURE(wishes.radius_m.value_or(0.0));
      const auto solved = optics::solve_two_mirror(wishes);
      if (!solved) FAIL(base::to_text(solved.problems()));
      check_row(solved.value(), row, 1e-6);
      CHECK(solved.value().effective_focal_length_m ==
            doctest::Approx(row.m * row.f1).epsilon(1e-6));
    }
  }
}

TEST_CASE("its diameter with one more gives the same telescope") {
  for (const auto& row : references::k_two_mirrors) {
    for (const bool by_receiver : {true, false}) {
      TwoMirrorWishes wishes = start(row);
      wishes.diameter_m = 2.0 * row.edge_x;
      if (by_receiver) {
        wishes.receiver_z_m = -row.b;
      } else {
        wishes.magnification = row.m;
      }
      const auto solved = optics::solve_two_mirror(wishes);
      if (!solved) FAIL(base::to_text(solved.problems()));
      // The table's edge is rounded to 5e-9; the receiver's place follows with p * (m + 1) / edge.
      check_row(solved.value(), row, 1e-6);
      CHECK(solved.value().caught_share == doctest::Approx(1.0).epsilon(1e-6));
    }
  }
}

// Source: shade of the secondary (2x/D)^2; the two-mirror table gives .085069 and .340278 for k^2,
// which the true edge exceeds. Tolerance 1e-6.
TEST_CASE("the shade is that of the true edge, not of the height ratio") {
  const auto& row = references::k_two_mirrors[2];
  TwoMirrorWishes wishes = start(row);
  wishes.magnification = row.m;
  wishes.receiver_z_m = -row.b;
  const auto solved = optics::solve_two_mirror(wishes);
  REQUIRE(solved.ok());
  CHECK(solved.value().height_ratio * solved.value().height_ratio ==
        doctest::Approx(.085069).epsilon(1e-5));
  const double edge = 2.0 * row.edge_x / row.d1;
  CHECK(solved.value().shaded_share == doctest::Approx(edge * edge).epsilon(1e-6));
}

TEST_CASE("a telescope as it was built") {
  const auto& built = references::k_built_telescope;
  TwoMirrorWishes wishes;
  wishes.form = MirrorForm::hyperboloid;
  wishes.focal_length_m = 0.5 * built.primary_radius;
  wishes.aperture_radius_m = 0.5 * built.diameter;
  wishes.secondary_z_m = built.separation;
  wishes.radius_m = built.secondary_radius;
  const auto solved = optics::solve_two_mirror(wishes);
  REQUIRE(solved.ok());
  const optics::TwoMirror& two = solved.value();
  struct Part {
    const char* name;
    double outside, ours, rounding;
  };
  constexpr double pins[7] = {0.111219202899, 10.434916244,  57.6007376671, 24.0003073613,
                              6.40630812971,  1.50023812971, -1.4688920404};
  const Part parts[] = {
      {"height ratio", built.k, two.height_ratio, 5e-8},
      {"magnification", built.m, two.magnification, 5e-7},
      {"focal length, m", built.focal_length, two.effective_focal_length_m, 5e-6},
      {"focal ratio", built.focal_ratio, two.effective_focal_length_m / built.diameter, 5e-5},
      {"secondary to focus, m", built.to_focus, two.to_receiver_m, 5e-7},
      {"back focus, m", built.back_focus, -two.receiver_z_m, 5e-7},
      {"conic constant", built.conic, two.conic_constant, 5e-7}};
  for (std::size_t k = 0; k < 7; ++k) {
    support::check_outside({.what = std::string("telescope as built, ") + parts[k].name,
                            .source = references::k_built_telescope_source,
                            .outside = parts[k].outside,
                            .ours = parts[k].ours,
                            .tolerance = parts[k].rounding,
                            .why = support::k_half_digit,
                            .pin = pins[k]});
  }
}

TEST_CASE("spheres and paraboloids have the conic's radius, and say what they miss") {
  for (const auto& row : references::k_two_mirrors) {
    for (const MirrorForm form : {MirrorForm::sphere, MirrorForm::paraboloid}) {
      TwoMirrorWishes wishes = start(row);
      wishes.form = form;
      wishes.is_beyond_focus = row.is_gregory;
      wishes.magnification = row.m;
      wishes.receiver_z_m = -row.b;
      const auto solved = optics::solve_two_mirror(wishes);
      REQUIRE(solved.ok());
      CHECK(std::abs(std::abs(solved.value().vertex_radius_m) - row.r2) < 1e-6);
      CHECK(solved.value().rim_miss_m > 1e-4);
      const bool named = !solved.value().doubts.empty();
      CHECK(named == (solved.value().rim_miss_m > 0.5 * solved.value().sun_image_m ||
                      solved.value().shaded_share > 0.2));
    }
  }
}

TEST_CASE("a flat stands half way between focus and receiver") {
  TwoMirrorWishes wishes{.form = MirrorForm::flat, .focal_length_m = 2.0, .aperture_radius_m = 0.8};
  wishes.receiver_z_m = 0.2;
  const auto by_receiver = optics::solve_two_mirror(wishes);
  REQUIRE(by_receiver.ok());
  CHECK(by_receiver.value().secondary.vertex_m.z == doctest::Approx(1.1).epsilon(1e-14));
  CHECK(by_receiver.value().rim_miss_m < 1e-12);
  wishes.receiver_z_m.reset();
  wishes.diameter_m = by_receiver.value().secondary.diameter_m;
  const auto by_diameter = optics::solve_two_mirror(wishes);
  REQUIRE(by_diameter.ok());
  CHECK(by_diameter.value().receiver_z_m == doctest::Approx(0.2).epsilon(1e-9));
}

TEST_CASE("a smaller secondary and a hole lose the light that passes them") {
  const auto& row = references::k_two_mirrors[0];
  TwoMirrorWishes wishes = start(row);
  wishes.magnification = row.m;
  wishes.receiver_z_m = -row.b;
  wishes.diameter_m = row.edge_x;  // half of what is needed
  wishes.hole_diameter_m = 0.2 * row.edge_x;
  const auto solved = optics::solve_two_mirror(wishes);
  REQUIRE(solved.ok());
  // Nearly (1/2)^2 - (1/10)^2: heights on the two mirrors are nearly in proportion.
  CHECK(solved.value().caught_share == doctest::Approx(0.24).epsilon(0.05));
  CHECK(!solved.value().doubts.empty());
}

TEST_CASE("what cannot be built is named, never computed") {
  TwoMirrorWishes wishes{
      .form = MirrorForm::hyperboloid, .focal_length_m = 2.0, .aperture_radius_m = 1.0};
  CHECK(problem_of(wishes).find("0 of its numbers known") != std::string::npos);
  wishes.secondary_z_m = 2.5;  // a hyperboloid beyond the focus
  wishes.receiver_z_m = 0.1;
  CHECK(problem_of(wishes).find("below the facets' focus") != std::string::npos);
  wishes.form = MirrorForm::ellipsoid;
  CHECK(problem_of(wishes) == "none");
  wishes.secondary_z_m = 1.5;  // an ellipsoid in front of the focus
  CHECK(problem_of(wishes).find("above the facets' focus") != std::string::npos);
  wishes.form = MirrorForm::hyperboloid;
  wishes.receiver_z_m = 1.7;  // above the secondary
  CHECK(problem_of(wishes).find("below the secondary") != std::string::npos);
  wishes.receiver_z_m = 0.1;
  wishes.magnification = 3.0;  // three knowns
  CHECK(problem_of(wishes).find("3 of its numbers known") != std::string::npos);
  wishes.receiver_z_m.reset();
  wishes.magnification = -3.0;
  CHECK(problem_of(wishes).find("above zero") != std::string::npos);
  wishes.magnification = std::nan("");
  CHECK(problem_of(wishes).find("above zero") != std::string::npos);
  wishes.magnification.reset();
  wishes.radius_m = 0.2;  // bulges so much that the light spreads
  CHECK(problem_of(wishes).find("draw it together") != std::string::npos);
  wishes.radius_m.reset();
  wishes.receiver_z_m = -2000.0;
  wishes.secondary_z_m = 0.001;
  wishes.margin = 1.5;  // wider than the dish
  CHECK(problem_of(wishes) != "none");
  TwoMirrorWishes hole{.form = MirrorForm::flat, .focal_length_m = 2.0, .aperture_radius_m = 0.8};
  hole.receiver_z_m = 0.2;
  hole.hole_diameter_m = 3.0;
  CHECK(problem_of(hole).find("secondary/diameter_m") != std::string::npos);
}

TEST_CASE("the solved secondary goes into a dish by edits, and light finds its way") {
  dish::Dish dish = dish::default_dish();
  TwoMirrorWishes wishes = optics::wishes_for(dish, MirrorForm::hyperboloid);
  wishes.magnification = 3.0;
  wishes.receiver_z_m = 0.1;
  wishes.margin = 1.1;
  const auto solved = optics::solve_two_mirror(wishes);
  REQUIRE(solved.ok());
  for (const dish::Edit& edit : optics::edits_of(dish, solved.value())) {
    auto changed = dish::apply(dish, edit);
    REQUIRE(changed.ok());
    dish = std::move(changed).value();
  }
  REQUIRE(dish.secondary.has_value());
  CHECK(optics::make_scene(dish, {}).ok());
  // Glass that stands already keeps what it is like.
  dish.secondary->reflectance = 0.77;
  const auto again = optics::edits_of(dish, solved.value());
  CHECK(std::get<dish::edit::SetSecondary>(again[0]).secondary->reflectance == 0.77);
}
