// Cells within the ellipse, one row after the other.
#include "optics/splat.h"

#include <algorithm>
#include <cmath>

#include "optics/ray_draw.h"

namespace optics {
namespace {

using base::Vec2;

/// The ellipse a dx^2 + 2 b dx dy + c dy^2 = q of a spread, and the box that holds its reach.
struct Ellipse {
  double a = 0.0, b = 0.0, c = 0.0;
  double root_determinant = 0.0;
  Vec2 reach{0.0, 0.0};

  Ellipse(const Spread& s, double most) {
    const double determinant = s.xx * s.yy - s.xy * s.xy;
    root_determinant = std::sqrt(determinant);
    a = s.yy / determinant;
    b = -s.xy / determinant;
    c = s.xx / determinant;
    reach = most * Vec2(std::sqrt(s.xx), std::sqrt(s.yy));
  }
};

struct CellBox {
  int column0 = 0, column1 = -1, row0 = 0, row1 = -1;
};

/// First and last cell whose middle lies within [low, high].
void cell_range(double low, double high, double cell, double width, int& first, int& last) {
  const auto bounded = [](double place) { return std::clamp(place, -1e6, 1e6); };
  first = static_cast<int>(std::ceil(bounded((low + 0.5 * width) / cell - 0.5)));
  last = static_cast<int>(std::floor(bounded((high + 0.5 * width) / cell - 0.5)));
}

bool is_box_on_receiver(const SceneReceiver& receiver, const Vec2& centre, const Vec2& reach) {
  const Vec2 far{std::abs(centre.x) + reach.x, std::abs(centre.y) + reach.y};
  return is_on_receiver(receiver, far);
}

bool is_box_off_receiver(const SceneReceiver& receiver, const Vec2& centre, const Vec2& reach) {
  return std::abs(centre.x) - reach.x > receiver.half_m.x ||
         std::abs(centre.y) - reach.y > receiver.half_m.y;
}

/// Points of equal power: the square root of the spread (Cholesky) times the profile's points.
template <class Take>
void visit_points(const ConeKernels::Profile& profile, const Splat& splat, const Take& take) {
  const double lx = std::sqrt(splat.spread.xx);
  const double ly = splat.spread.xy / lx;
  const double lyy = std::sqrt(std::max(splat.spread.yy - ly * ly, 0.0));
  for (const Vec2& point : profile.points) {
    take(splat.centre + Vec2(lx * point.x, ly * point.x + lyy * point.y));
  }
}

double receiver_share_by_points(const SceneReceiver& receiver, const ConeKernels::Profile& profile,
                                const Splat& splat) {
  int inside = 0;
  visit_points(profile, splat,
               [&](const Vec2& point) { inside += is_on_receiver(receiver, point) ? 1 : 0; });
  return static_cast<double>(inside) / ConeKernels::k_points;
}

void add_outside(const Canvas& canvas, const ConeKernels::Profile& profile, const Splat& splat,
                 double missing_W, std::vector<base::Vec3>& outside) {
  const std::size_t first = outside.size();
  const double half = 0.5 * canvas.width_m;
  visit_points(profile, splat, [&](const Vec2& point) {
    if (std::abs(point.x) > half || std::abs(point.y) > half) {
      outside.emplace_back(point.x, point.y, 1.0);
    }
  });
  if (outside.size() == first) {
    // Only the thin tail leaves the map: it goes to where the ellipse sticks out farthest.
    const double sign_x = splat.centre.x < 0.0 ? -1.0 : 1.0;
    const double sign_y = splat.centre.y < 0.0 ? -1.0 : 1.0;
    outside.emplace_back(sign_x * std::max(half, std::abs(splat.centre.x)),
                         sign_y * std::max(half, std::abs(splat.centre.y)), 1.0);
  }
  const double each = missing_W / static_cast<double>(outside.size() - first);
  for (std::size_t k = first; k < outside.size(); ++k) outside[k].z = each;
}

/// Profile at the middles of the cells in `kept`, row by row; answers their sum.
double sample_rows(const Canvas& canvas, const ConeKernels::Profile& profile,
                   const Ellipse& ellipse, const Vec2& centre, const CellBox& kept,
                   std::vector<float>& density) {
  const double cell = canvas.cell_m();
  const int columns = std::max(kept.column1 - kept.column0 + 1, 0);
  density.assign(static_cast<std::size_t>(columns) *
                     static_cast<std::size_t>(std::max(kept.row1 - kept.row0 + 1, 0)),
                 0.0f);
  const double most = std::min(profile.reach * profile.reach, ConeKernels::k_most_q);
  const double steps_per_q = ConeKernels::k_steps / ConeKernels::k_most_q;
  double sum = 0.0;
  float* row_start = density.data();
  for (int row = kept.row0; row <= kept.row1; ++row, row_start += columns) {
    // a dx^2 + 2 b dx dy + c dy^2 <= most between two columns.
    const double dy = (row + 0.5) * cell - 0.5 * canvas.width_m - centre.y;
    const double b = ellipse.b * dy;
    const double c = ellipse.c * dy * dy;
    const double discriminant = b * b - ellipse.a * (c - most);
    if (!(discriminant > 0.0)) continue;
    const double half = std::sqrt(discriminant) / ellipse.a;
    int first = 0;
    int last = 0;
    cell_range(centre.x - b / ellipse.a - half, centre.x - b / ellipse.a + half, cell,
               canvas.width_m, first, last);
    first = std::max(first, kept.column0);
    last = std::min(last, kept.column1);
    double row_sum = 0.0;
    for (int column = first; column <= last; ++column) {
      const double dx = (column + 0.5) * cell - 0.5 * canvas.width_m - centre.x;
      const double q = dx * (ellipse.a * dx + 2.0 * b) + c;
      const double place = std::min(std::max(q, 0.0), ConeKernels::k_most_q) * steps_per_q;
      const auto k = static_cast<int>(place);
      const auto rest = static_cast<float>(place - k);
      const float low = profile.density[static_cast<std::size_t>(k)];
      const float value = low + rest * (profile.density[static_cast<std::size_t>(k) + 1] - low);
      row_start[column - kept.column0] = value;
      row_sum += static_cast<double>(value);
    }
    sum += row_sum;
  }
  return sum;
}

}  // namespace

Canvas make_canvas(const SceneReceiver& receiver, int cells, double width_m) {
  Canvas canvas{.cells = cells, .width_m = width_m, .cover = {}};
  const double cell = canvas.cell_m();
  canvas.cover.reserve(static_cast<std::size_t>(cells) * static_cast<std::size_t>(cells));
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      const Vec2 middle{(column + 0.5) * cell - 0.5 * width_m, (row + 0.5) * cell - 0.5 * width_m};
      const Vec2 half(0.5 * cell);
      if (is_box_on_receiver(receiver, middle, half)) {
        canvas.cover.push_back(1.0f);
        continue;
      }
      int inside = 0;
      for (int k = 0; k < 64 && !is_box_off_receiver(receiver, middle, half); ++k) {
        const Vec2 point =
            middle + cell * Vec2((k % 8 + 0.5) / 8.0 - 0.5, (k / 8 + 0.5) / 8.0 - 0.5);
        inside += is_on_receiver(receiver, point) ? 1 : 0;
      }
      canvas.cover.push_back(static_cast<float>(inside) / 64.0f);
    }
  }
  return canvas;
}

Laid lay(const Canvas& canvas, const SceneReceiver& receiver, const ConeKernels::Profile& profile,
         const Splat& splat, std::vector<double>& watts, std::vector<base::Vec3>& outside) {
  // A cell holds the mean over itself: that blurs by a twelfth of its side squared.
  const double cell = canvas.cell_m();
  Splat blurred = splat;
  blurred.spread.xx += cell * cell / 12.0;
  blurred.spread.yy += cell * cell / 12.0;
  const Ellipse ellipse(blurred.spread, profile.reach);
  CellBox box;
  cell_range(splat.centre.x - ellipse.reach.x, splat.centre.x + ellipse.reach.x, cell,
             canvas.width_m, box.column0, box.column1);
  cell_range(splat.centre.y - ellipse.reach.y, splat.centre.y + ellipse.reach.y, cell,
             canvas.width_m, box.row0, box.row1);
  const CellBox kept{std::max(box.column0, 0), std::min(box.column1, canvas.cells - 1),
                     std::max(box.row0, 0), std::min(box.row1, canvas.cells - 1)};
  const bool is_within = kept.column0 == box.column0 && kept.column1 == box.column1 &&
                         kept.row0 == box.row0 && kept.row1 == box.row1;

  // Sum the profile over the box's rows, each only where the ellipse reaches.
  std::vector<float> density;
  const double sum = sample_rows(canvas, profile, ellipse, splat.centre, kept, density);
  // Scale to the splat's power: by the cells' own sum when all of them are on the map.
  const double scale = is_within && sum > 0.0
                           ? splat.watts / sum
                           : splat.watts * cell * cell / ellipse.root_determinant;
  double covered = 0.0;
  const float* next = density.data();
  for (int row = kept.row0; row <= kept.row1; ++row) {
    const auto index = static_cast<std::size_t>(row * canvas.cells + kept.column0);
    double* to = watts.data() + index;
    const float* cover = canvas.cover.data() + index;
    for (int k = 0; k <= kept.column1 - kept.column0; ++k) {
      const double light = scale * static_cast<double>(*next++);
      to[k] += light;
      covered += light * static_cast<double>(cover[k]);
    }
  }
  const double on_map = scale * sum;
  const double missing = splat.watts - on_map;
  if (!is_within && missing > 1e-12 * splat.watts) {
    add_outside(canvas, profile, blurred, missing, outside);
  }

  if (is_box_on_receiver(receiver, splat.centre, ellipse.reach)) return {splat.watts};
  if (is_box_off_receiver(receiver, splat.centre, ellipse.reach)) return {0.0};
  if (canvas.width_m < receiver.longer_side_m) {
    return {splat.watts * receiver_share_by_points(receiver, profile, splat)};
  }
  return {std::min(covered, splat.watts)};
}

}  // namespace optics
