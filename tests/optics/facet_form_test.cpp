// Form errors: their scale, the spots they make, and maps between their nodes. Closed forms are by
// the law of reflection; other sources stand in references/optics/form_errors.h.
#include "optics/facet_form.h"

#include <cmath>

#include "base/units.h"
#include "dish/checks.h"
#include "light_scenes.h"
#include "optics/edge_distance.h"
#include "optics/light_scenes.h"
#include "optics/path.h"
#include "optics/scene.h"
#include "optics/trace_part.h"
#include "references/optics/form_errors.h"
#include "support/outside.h"

#include <doctest/doctest.h>

namespace {

using base::Vec2;
using optics::Edge;
using optics::FacetForm;
using optics::FormOffset;

constexpr double k_radius = 0.15;

Edge edge_of(const dish::Outline& outline) {
  auto edge = optics::make_edge(outline, "test");
  REQUIRE(edge.ok());
  return std::move(edge).value();
}

/// Root mean square over the unit disc of a term's height about its mean, and of its slope.
struct Rms {
  double height = 0.0;
  double slope = 0.0;
};

Rms rms_of(const dish::FormError& error) {
  const Edge edge = optics::ring_edge(k_radius, 0.0);
  const FacetForm form = make_facet_form(error, edge);
  constexpr int n = 400;
  double count = 0.0, sum = 0.0, squares = 0.0, slopes = 0.0;
  for (int i = 0; i < n * n; ++i) {
    const double u = k_radius * (2.0 * (i % n + 0.5) / n - 1.0);
    const double v = k_radius * (2.0 * (i / n + 0.5) / n - 1.0);
    if (u * u + v * v > k_radius * k_radius) continue;
    const FormOffset offset = form_offset(form, edge, u, v);
    CHECK(std::abs(offset.height_m) <= form.most_height_m * (1.0 + 1e-12));
    count += 1.0;
    sum += offset.height_m;
    squares += offset.height_m * offset.height_m;
    slopes += offset.slope_u * offset.slope_u + offset.slope_v * offset.slope_v;
  }
  const double mean = sum / count;
  return {std::sqrt(squares / count - mean * mean), std::sqrt(slopes / count)};
}

/// A flat square mirror square to a point of a sun, with a form error, seen on a board.
dish::Dish bent_square(double width, double distance, const dish::FormError& error) {
  dish::Dish dish =
      light_scenes::oblique_facet(dish::Rectangle{width, width}, dish::Flat{}, 0.0, distance);
  dish.sun.half_angle_rad = 0.0;
  dish.facet_types[0].form_error = error;
  light_scenes::set_receiver_radius(dish, 1.0);
  return dish;
}

/// Where light from the middle of the sun lands that meets the facet at a point.
Vec2 landing(const optics::Scene& scene, const Vec2& uv) {
  const auto path = optics::follow(scene, scene.facets[0], facet_point(scene, scene.facets[0], uv),
                                   scene.sun, {}, {});
  REQUIRE(path.end == optics::End::landed);
  return path.board;
}

dish::SharedSagMap map_of(const Vec2& first, const Vec2& step, int columns, int rows,
                          double (*height)(double u, double v)) {
  dish::SagMap map{first, step, columns, rows, {}};
  for (int row = 0; row < rows; ++row) {
    for (int column = 0; column < columns; ++column) {
      map.sag_m.push_back(height(first.x + column * step.x, first.y + row * step.y));
    }
  }
  return std::make_shared<const dish::SagMap>(std::move(map));
}

double bowl(double u, double v) { return (u * u + v * v) / 8.0 + 0.01 * u * v - 0.003 * u; }

}  // namespace

TEST_CASE("low-order terms have the heights and slopes of Zernike's polynomials") {
  constexpr double size = 0.002;
  constexpr double pins[5][2] = {{0.288702948779, 1.41428238934},
                                 {0.408368362088, 1.41428238934},
                                 {0.408207477939, 1.41428238934},
                                 {0.353604751431, 1.73221897513},
                                 {0.353604751431, 1.73221897513}};
  struct Term {
    const char* name;
    dish::FormError error;
    double height, slope;
  };
  const Term terms[] = {
      {"defocus", {.defocus_m = size}, references::k_defocus_rms, references::k_square_slope_rms},
      {"astigmatism 0",
       {.astigmatism_0_m = size},
       references::k_astigmatism_rms,
       references::k_square_slope_rms},
      {"astigmatism 45",
       {.astigmatism_45_m = size},
       references::k_astigmatism_rms,
       references::k_square_slope_rms},
      {"trefoil 0",
       {.trefoil_0_m = size},
       references::k_trefoil_rms,
       references::k_trefoil_slope_rms},
      {"trefoil 30",
       {.trefoil_30_m = size},
       references::k_trefoil_rms,
       references::k_trefoil_slope_rms}};
  for (std::size_t k = 0; k < 5; ++k) {
    const Rms rms = rms_of(terms[k].error);
    support::OutsideCheck check{.source = references::k_noll_source, .why = "a sum over a grid"};
    check.what = std::string(terms[k].name) + ", rms height";
    check.outside = terms[k].height;
    check.ours = rms.height / size;
    check.tolerance = 1e-3 * check.outside;
    check.pin = pins[k][0];
    support::check_outside(check);
    check.what = std::string(terms[k].name) + ", rms slope";
    check.outside = terms[k].slope;
    check.ours = rms.slope * k_radius / size;
    check.tolerance = 1e-3 * check.outside;
    check.pin = pins[k][1];
    support::check_outside(check);
  }
}

TEST_CASE("slopes are the derivatives of heights, for every term, edge and map") {
  const dish::FormError error{.defocus_m = 3e-4,
                              .astigmatism_0_m = -2e-4,
                              .astigmatism_45_m = 1e-4,
                              .trefoil_0_m = 5e-5,
                              .trefoil_30_m = -7e-5,
                              .roll_off = dish::EdgeRollOff{0.03, 0.004},
                              .sag_map = map_of({-0.1, -0.12}, {0.02, 0.03}, 11, 9, bowl)};
  for (const dish::Outline& outline :
       {dish::Outline{dish::Hexagon{0.2}}, dish::Outline{dish::Rectangle{0.2, 0.16}},
        dish::Outline{dish::Disc{0.2}}, dish::Outline{dish::AnnularSector{0.2, 0.4, 0.8}}}) {
    const Edge edge = edge_of(outline);
    const FacetForm form = make_facet_form(error, edge);
    constexpr double h = 1e-6;
    for (int k = 0; k < 400; ++k) {
      const Vec2 uv = optics::sample(edge, (k % 20 + 0.37) / 20, (k / 20 + 0.43) / 20);
      const auto height = [&](double u, double v) {
        return form_offset(form, edge, u, v).height_m;
      };
      const FormOffset at = form_offset(form, edge, uv.x, uv.y);
      CHECK(at.slope_u ==
            doctest::Approx((height(uv.x + h, uv.y) - height(uv.x - h, uv.y)) / (2 * h))
                .epsilon(1e-3)
                .scale(1.0));
      CHECK(at.slope_v ==
            doctest::Approx((height(uv.x, uv.y + h) - height(uv.x, uv.y - h)) / (2 * h))
                .epsilon(1e-3)
                .scale(1.0));
      CHECK(std::abs(at.height_m) <= form.most_height_m);
      CHECK(std::hypot(at.slope_u, at.slope_v) <= form.most_slope);
    }
  }
}

// Source: the paraboloid z = r^2 / 4f (any optics text). Equal to rounding.
TEST_CASE("a flat mirror with defocus is a paraboloid of f = R^2 / 4 d") {
  const double d = 0.0015;
  dish::Dish bent =
      light_scenes::oblique_facet(dish::Disc{2.0 * k_radius}, dish::Flat{}, 20.0, 2.0);
  bent.facet_types[0].form_error.defocus_m = d;
  dish::Dish whole = bent;
  whole.facet_types[0].form_error = {};
  whole.facet_types[0].surface = dish::Paraboloid{k_radius * k_radius / (4.0 * d)};
  const optics::Scene one = light_scenes::scene_of(bent);
  const optics::Scene other = light_scenes::scene_of(whole);
  for (const Vec2& uv : {Vec2(0.0, 0.0), Vec2(0.1, 0.05), Vec2(-0.03, 0.14)}) {
    CHECK(glm::distance(landing(one, uv), landing(other, uv)) < 1e-12);
  }
}

TEST_CASE("a defocused tile's spot has the extent of the mirror equation") {
  // The corner's circle is what the term is measured at: R^2 = w^2 / 2, sag R^2 / (2 * 4.2 m).
  const double width = 0.3;
  const double sag = 0.5 * width * width / (2.0 * 4.2);
  CHECK(1e3 * 0.25 * width * width / (2.0 * 4.2) ==
        doctest::Approx(references::k_tile_sag_mm).epsilon(1e-6));
  const optics::Scene scene = light_scenes::scene_of(bent_square(width, 2.0, {.defocus_m = sag}));
  const double extent = glm::distance(landing(scene, {0.15, 0.0}), landing(scene, {-0.15, 0.0}));
  constexpr double pin = 14.3039591316;
  support::check_outside({.what = "spot of a defocused tile, mm",
                          .source = references::k_defocused_extent_source,
                          .outside = references::k_defocused_extent_mm,
                          .ours = 1e3 * extent,
                          .tolerance = 2e-3 * references::k_defocused_extent_mm,
                          .why = "third order, (w/R)^2",
                          .pin = pin});
}

// Source: law of reflection; astigmatism a over the radius R bends by +-2a/R^2, so one line focus
// lies at R^2 / 4a, where the other width has doubled (mirror equation of a cylinder, Born & Wolf
// 4.6). Tolerance 1e-3: second order in slopes of 5 mrad, and the trace's counting.
TEST_CASE("astigmatism makes a line focus at R^2 / 4 a and doubles the other width") {
  const double width = 0.2;
  const double corner2 = 0.5 * width * width;
  const double a = 0.0005;
  const double focus = corner2 / (4.0 * a);
  const auto spot =
      light_scenes::traced(bent_square(width, focus, {.astigmatism_0_m = a}), {.rays = 65536});
  const double even = width / std::sqrt(12.0);
  CHECK(spot.rms_m.x < 1e-3 * even);
  CHECK(spot.rms_m.y == doctest::Approx(2.0 * even).epsilon(1e-3));
  const auto half = light_scenes::traced(bent_square(width, 0.5 * focus, {.astigmatism_0_m = a}),
                                         {.rays = 65536});
  CHECK(half.rms_m.x == doctest::Approx(0.5 * even).epsilon(1e-3));
  CHECK(half.rms_m.y == doctest::Approx(1.5 * even).epsilon(1e-3));
}

TEST_CASE("clocking turns astigmatism and trefoil with the facet") {
  const auto made = [](double clocking_deg, const dish::FormError& error) {
    dish::Dish dish = light_scenes::oblique_facet(dish::Disc{0.3}, dish::Flat{}, 0.0, 2.0);
    dish.facets[0].clocking_rad = base::rad_from_deg(clocking_deg);
    dish.facet_types[0].form_error = error;
    return light_scenes::scene_of(dish);
  };
  const auto turned = [](const Vec2& uv, double deg) {
    const double c = std::cos(base::rad_from_deg(deg));
    const double s = std::sin(base::rad_from_deg(deg));
    return Vec2(c * uv.x - s * uv.y, s * uv.x + c * uv.y);
  };
  const optics::Scene a = made(45.0, {.astigmatism_0_m = 4e-4});
  const optics::Scene b = made(0.0, {.astigmatism_45_m = 4e-4});
  const optics::Scene c = made(30.0, {.trefoil_0_m = 4e-4});
  const optics::Scene d = made(0.0, {.trefoil_30_m = 4e-4});
  for (const Vec2& uv : {Vec2(0.1, 0.05), Vec2(-0.03, 0.14), Vec2(0.0, -0.12)}) {
    CHECK(glm::distance(landing(a, uv), landing(b, turned(uv, 45.0))) < 1e-12);
    CHECK(glm::distance(landing(c, uv), landing(d, turned(uv, 30.0))) < 1e-12);
  }
  CHECK(glm::distance(landing(a, {0.1, 0.0}), landing(b, {0.1, 0.0})) > 1e-3);
}

// Source: a ray turns by twice the slope; over the disc the mean square of 3 t rho^2 / R is
// 3 t^2 / R^2 (Noll, above). Tolerance 2e-3: sag of the mirror itself over the distance.
TEST_CASE("trefoil on a focused mirror makes a spot of 2 L sqrt(3) t / R") {
  const double distance = 2.0;
  const double t = 1e-4;
  dish::Dish dish = light_scenes::oblique_facet(dish::Disc{2.0 * k_radius},
                                                dish::Paraboloid{distance}, 0.0, distance);
  dish.sun.half_angle_rad = 0.0;
  dish.facet_types[0].form_error.trefoil_30_m = t;
  light_scenes::set_receiver_radius(dish, 0.1);
  const auto spot = light_scenes::traced(dish, {.rays = 65536});
  CHECK(spot.facets[0].rms_radius_m ==
        doctest::Approx(2.0 * distance * references::k_trefoil_slope_rms * t / k_radius)
            .epsilon(2e-3));
}

// Source: law of reflection; in a margin of width b a ray lands 2 L s (1 - d / b) from the focus,
// so within r lies what is farther than b (1 - r / 2 L s) from the edge. Tolerance 1e-3: counting.
TEST_CASE("a rolled-off edge sends the light of its margin astray") {
  const double width = 0.2;
  const double margin = 0.03;
  const double slope = 0.005;
  const double distance = 3.0;
  dish::Dish dish = light_scenes::oblique_facet(dish::Rectangle{width, width},
                                                dish::Paraboloid{distance}, 0.0, distance);
  dish.sun.half_angle_rad = 0.0;
  dish.facet_types[0].form_error.roll_off = dish::EdgeRollOff{margin, slope};
  for (const double r : {0.0005, 0.01, 0.02}) {
    light_scenes::set_receiver_radius(dish, r);
    const double depth = margin * (1.0 - r / (2.0 * distance * slope));
    const double share = (width - 2.0 * depth) * (width - 2.0 * depth) / (width * width);
    CHECK(light_scenes::traced(dish, {.rays = 131072}).intercept_factor ==
          doctest::Approx(share).epsilon(2e-3));
  }
  // It leans back: the normal at the right edge turns to the right.
  const optics::Scene scene = light_scenes::scene_of(dish);
  const double before = -0.0999 / (2.0 * distance);
  const double after = facet_point(scene, scene.facets[0], {0.0999, 0.0}).normal.x;
  CHECK(after - before == doctest::Approx(slope).epsilon(0.01));
}

TEST_CASE("distances from the edge of every outline") {
  const Edge hexagon = edge_of(dish::Hexagon{0.2});
  CHECK(optics::edge_distance(hexagon, {0.0, 0.0}).distance_m == doctest::Approx(0.1));
  CHECK(optics::edge_distance(hexagon, {0.09, 0.0}).distance_m == doctest::Approx(0.01));
  CHECK(optics::edge_distance(hexagon, {0.09, 0.0}).outward.x == doctest::Approx(1.0));
  const Edge petal = edge_of(dish::AnnularSector{0.2, 0.4, 0.8});
  CHECK(optics::edge_distance(petal, {0.09, 0.0}).distance_m == doctest::Approx(0.01));
  CHECK(optics::edge_distance(petal, {-0.09, 0.0}).outward.x == doctest::Approx(-1.0));
  // The straight edge passes the apex at -0.3 with an angle of 0.4.
  const optics::EdgeDistance side = optics::edge_distance(petal, {0.0, 0.11});
  CHECK(side.distance_m ==
        doctest::Approx(0.3 * std::sin(0.4) - 0.11 * std::cos(0.4)).epsilon(1e-12));
  CHECK(side.outward.y == doctest::Approx(std::cos(0.4)));
  CHECK(optics::edge_distance(petal, {0.0, -0.11}).outward.y == doctest::Approx(-std::cos(0.4)));
}

TEST_CASE("a map of a paraboloid is that paraboloid, to the last digits") {
  // Source: Catmull & Rom (1974): the spline runs through its nodes and keeps quadratics.
  const Edge edge = edge_of(dish::Rectangle{0.2, 0.2});
  const FacetForm form =
      make_facet_form({.sag_map = map_of({-0.16, -0.15}, {0.02, 0.03}, 17, 11, bowl)}, edge);
  for (int k = 0; k < 400; ++k) {
    const Vec2 uv = optics::sample(edge, (k % 20 + 0.5) / 20, (k / 20 + 0.5) / 20);
    const FormOffset at = form_offset(form, edge, uv.x, uv.y);
    CHECK(std::abs(at.height_m - bowl(uv.x, uv.y)) < 1e-15);
    CHECK(std::abs(at.slope_u - (uv.x / 4.0 + 0.01 * uv.y - 0.003)) < 1e-13);
    CHECK(std::abs(at.slope_v - (uv.y / 4.0 + 0.01 * uv.x)) < 1e-13);
  }
}

TEST_CASE("a map has no steps in height or slope, not even past its rim") {
  const Edge edge = edge_of(dish::Rectangle{0.2, 0.2});
  const FacetForm form = make_facet_form(
      {.sag_map = map_of(
           {-0.09, -0.09}, {0.02, 0.02}, 10, 10,
           [](double u, double v) { return 1e-4 * std::sin(70.0 * u) * std::cos(90.0 * v); })},
      edge);
  FormOffset before = form_offset(form, edge, -0.1, -0.0831);
  double height_step = 0.0;
  double slope_step = 0.0;
  constexpr double step = 1e-5;
  for (double u = -0.1; u <= 0.1; u += step) {
    const FormOffset at = form_offset(form, edge, u, -0.0831 + 0.7 * (u + 0.1));
    height_step = std::max(height_step, std::abs(at.height_m - before.height_m));
    slope_step =
        std::max(slope_step, std::hypot(at.slope_u - before.slope_u, at.slope_v - before.slope_v));
    before = at;
  }
  // The sine's own second derivative is at most 1e-4 * 130^2 = 1.7 per metre, its slope 13 mrad.
  CHECK(height_step < 0.02 * step * 2.0);
  CHECK(slope_step < 3.0 * step * 2.0);
}

TEST_CASE("a facet's own map takes the place of its type's") {
  dish::Dish dish = bent_square(0.2, 2.0, {});
  dish.facet_types[0].form_error.sag_map =
      map_of({-0.1, -0.1}, {0.1, 0.1}, 3, 3, [](double, double) { return 0.0; });
  const optics::Scene flat = light_scenes::scene_of(dish);
  CHECK(glm::distance(landing(flat, {0.05, 0.02}), landing(flat, {0.0, 0.0})) ==
        doctest::Approx(std::hypot(0.05, 0.02)).epsilon(1e-9));
  dish.facets[0].sag_map =
      map_of({-0.1, -0.1}, {0.1, 0.1}, 3, 3, [](double u, double) { return 0.001 * u; });
  const optics::Scene tilted = light_scenes::scene_of(dish);
  // A map that leans by 1 mrad turns the light by 2 mrad.
  CHECK(glm::distance(landing(tilted, {0.0, 0.0}), landing(flat, {0.0, 0.0})) ==
        doctest::Approx(0.004).epsilon(1e-5));
}

TEST_CASE("a surface bent beyond sense is a problem that names its place") {
  dish::Dish dish = bent_square(0.2, 2.0, {.astigmatism_0_m = 0.03});
  const auto scene = optics::make_scene(dish, {});
  REQUIRE(!scene.ok());
  CHECK(scene.problems().front().place == "facet_types/tile/form_error");
  CHECK(scene.problems().front().value == "slopes of up to 424 mrad");
}

TEST_CASE("culling by neighbours stays exact with bent facets and a wide sun") {
  dish::Dish dish = light_scenes::lattice(3, true);
  dish.sun.shape = dish::CircumsolarSun{0.3};
  for (dish::FacetType& type : dish.facet_types) {
    type.form_error = {
        .defocus_m = -0.004, .astigmatism_45_m = 0.003, .roll_off = dish::EdgeRollOff{0.02, 0.02}};
  }
  const auto culled = optics::make_scene(dish, {.tracking_error_rad = {0.3, 0.1}});
  const auto all = optics::make_scene(dish, {.tracking_error_rad = {0.3, 0.1}, .cull = false});
  REQUIRE(culled.ok());
  REQUIRE(all.ok());
  const optics::TraceSettings settings{.rays = 100000, .workers = 2};
  const auto a = optics::trace_scene(culled.value(), settings);
  const auto b = optics::trace_scene(all.value(), settings);
  REQUIRE(a.ok());
  REQUIRE(b.ok());
  CHECK(culled.value().candidates.size() < all.value().candidates.size());
  CHECK(a.value().ledger.shading_W == b.value().ledger.shading_W);
  CHECK(a.value().ledger.blocking_W == b.value().ledger.blocking_W);
  CHECK(a.value().ledger.blocking_W > 0.0);
  CHECK(a.value().map.flux_W_m2 == b.value().map.flux_W_m2);
}
