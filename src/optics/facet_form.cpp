// Low-order terms, rolled-off edges, maps.
#include "optics/facet_form.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"
#include "optics/edge_distance.h"

namespace optics {
namespace {

using base::Vec2;

void add_low_order(const dish::FormError& error, double radius, double u, double v,
                   FormOffset& sum) {
  const double x = u / radius;
  const double y = v / radius;
  const double d = error.defocus_m;
  const double a = error.astigmatism_0_m;
  const double b = error.astigmatism_45_m;
  const double t = error.trefoil_0_m;
  const double s = error.trefoil_30_m;
  sum.height_m += d * (x * x + y * y) + a * (x * x - y * y) + 2.0 * b * x * y +
                  t * x * (x * x - 3.0 * y * y) + s * y * (3.0 * x * x - y * y);
  sum.slope_u +=
      (2.0 * (d * x + a * x + b * y) + 3.0 * t * (x * x - y * y) + 6.0 * s * x * y) / radius;
  sum.slope_v +=
      (2.0 * (d * y - a * y + b * x) - 6.0 * t * x * y + 3.0 * s * (x * x - y * y)) / radius;
}

void add_roll_off(const dish::EdgeRollOff& roll_off, const Edge& edge, double u, double v,
                  FormOffset& sum) {
  const EdgeDistance nearest = edge_distance(edge, {u, v});
  const double depth = roll_off.width_m - std::max(nearest.distance_m, 0.0);
  if (!(depth > 0.0)) return;
  const double slope = roll_off.slope_rad * depth / roll_off.width_m;
  sum.height_m -= 0.5 * slope * depth;
  sum.slope_u -= slope * nearest.outward.x;
  sum.slope_v -= slope * nearest.outward.y;
}

/// Height at a node, also of nodes beyond the rim, where the map goes on straight.
double node(const dish::SagMap& map, int column, int row) {
  const auto along = [&](int inside_row) {
    const double* heights =
        map.sag_m.data() + static_cast<std::ptrdiff_t>(inside_row) * map.columns;
    const int first = std::clamp(column, 0, map.columns - 2);
    return heights[first] + (column - first) * (heights[first + 1] - heights[first]);
  };
  const int first = std::clamp(row, 0, map.rows - 2);
  if (row == first) return along(first);
  const double low = along(first);
  return low + (row - first) * (along(first + 1) - low);
}

/// Catmull-Rom weights of four neighbours at t between the middle two, and their derivatives.
struct Weights {
  std::array<double, 4> value;
  std::array<double, 4> slope;
};

Weights weights_at(double t) {
  const double t2 = t * t;
  const double t3 = t2 * t;
  return {{0.5 * (-t + 2.0 * t2 - t3), 0.5 * (2.0 - 5.0 * t2 + 3.0 * t3),
           0.5 * (t + 4.0 * t2 - 3.0 * t3), 0.5 * (t3 - t2)},
          {0.5 * (-1.0 + 4.0 * t - 3.0 * t2), 0.5 * (9.0 * t2 - 10.0 * t),
           0.5 * (1.0 + 8.0 * t - 9.0 * t2), 0.5 * (3.0 * t2 - 2.0 * t)}};
}

void add_map(const dish::SagMap& map, double u, double v, FormOffset& sum) {
  const double x = (u - map.first_m.x) / map.step_m.x;
  const double y = (v - map.first_m.y) / map.step_m.y;
  const double column = std::floor(x);
  const double row = std::floor(y);
  const Weights along = weights_at(x - column);
  const Weights up = weights_at(y - row);
  FormOffset found;
  for (int j = 0; j < 4; ++j) {
    double height = 0.0;
    double slope = 0.0;
    for (int i = 0; i < 4; ++i) {
      const double one = node(map, static_cast<int>(column) + i - 1, static_cast<int>(row) + j - 1);
      height += along.value[static_cast<std::size_t>(i)] * one;
      slope += along.slope[static_cast<std::size_t>(i)] * one;
    }
    found.height_m += up.value[static_cast<std::size_t>(j)] * height;
    found.slope_u += up.value[static_cast<std::size_t>(j)] * slope;
    found.slope_v += up.slope[static_cast<std::size_t>(j)] * height;
  }
  sum.height_m += found.height_m;
  sum.slope_u += found.slope_u / map.step_m.x;
  sum.slope_v += found.slope_v / map.step_m.y;
}

/// Generous bounds: each cubic stays within 1.25 times its values and 1.5 times its differences;
/// beyond the rim it goes on straight for up to `beyond` metres.
void widen_bounds(const dish::SagMap& map, double beyond, FacetForm& form) {
  double height = 0.0;
  double slope_u = 0.0;
  double slope_v = 0.0;
  const auto at = [&](int column, int row) {
    return map.sag_m[static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                     static_cast<std::size_t>(column)];
  };
  for (int row = 0; row < map.rows; ++row) {
    for (int column = 0; column < map.columns; ++column) {
      const double one = at(column, row);
      height = std::max(height, std::abs(one));
      if (column > 0) slope_u = std::max(slope_u, std::abs(one - at(column - 1, row)));
      if (row > 0) slope_v = std::max(slope_v, std::abs(one - at(column, row - 1)));
    }
  }
  const double slope = 2.0 * std::hypot(slope_u / map.step_m.x, slope_v / map.step_m.y);
  form.most_slope += slope;
  form.most_height_m += 1.6 * height + slope * beyond;
}

}  // namespace

FacetForm make_facet_form(const dish::FormError& error, const Edge& edge) {
  FacetForm form{.error = error, .radius_m = edge.bounding_radius_m};
  BASE_CHECK(form.radius_m > 0.0, "a facet has a size");
  const double defocus = std::abs(error.defocus_m);
  const double astigmatism = std::hypot(error.astigmatism_0_m, error.astigmatism_45_m);
  const double trefoil = std::hypot(error.trefoil_0_m, error.trefoil_30_m);
  form.most_height_m = defocus + astigmatism + trefoil;
  form.most_slope = (2.0 * (defocus + astigmatism) + 3.0 * trefoil) / form.radius_m;
  if (error.roll_off) {
    form.most_slope += std::abs(error.roll_off->slope_rad);
    form.most_height_m += 0.5 * std::abs(error.roll_off->slope_rad) * error.roll_off->width_m;
  }
  if (error.sag_map) widen_bounds(*error.sag_map, form.radius_m, form);
  return form;
}

FormOffset form_offset(const FacetForm& form, const Edge& edge, double u, double v) {
  FormOffset sum;
  add_low_order(form.error, form.radius_m, u, v, sum);
  if (form.error.roll_off) add_roll_off(*form.error.roll_off, edge, u, v, sum);
  if (form.error.sag_map) add_map(*form.error.sag_map, u, v, sum);
  return sum;
}

}  // namespace optics
