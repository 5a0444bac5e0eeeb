// p and q, the distances from the secondary's vertex to the facets' focus and to the receiver, are
// all there is to solve; everything else follows from them.
#include "optics/two_mirror.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"
#include "dish/defaults.h"
#include "dish/facts.h"
#include "optics/secondary_mirror.h"

namespace optics {
namespace {

using base::Problem;
using base::Problems;
using base::Result;

constexpr double k_least_m = 1e-6;

struct Lengths {
  double p = 0.0;
  double q = 0.0;
};

bool is_beyond(const TwoMirrorWishes& wishes) {
  switch (wishes.form) {
    case MirrorForm::ellipsoid:
      return true;
    case MirrorForm::sphere:
    case MirrorForm::paraboloid:
      return wishes.is_beyond_focus;
    case MirrorForm::flat:
    case MirrorForm::hyperboloid:
      break;
  }
  return false;
}

double secondary_z(const TwoMirrorWishes& wishes, double p) {
  return wishes.focal_length_m + (is_beyond(wishes) ? p : -p);
}

/// p from magnification or place of the receiver and the radius, before the focus
/// (R = 2pq/(q - p)) and beyond it (R = 2pq/(q + p)); forms without differences of near-equal
/// numbers.
Lengths from_radius(const TwoMirrorWishes& wishes, double reach) {
  const double r = *wishes.radius_m;
  const bool beyond = is_beyond(wishes);
  if (wishes.magnification) {
    const double m = *wishes.magnification;
    const double p = r * (beyond ? m + 1.0 : m - 1.0) / (2.0 * m);
    return {p, m * p};
  }
  if (wishes.secondary_z_m) {
    const double p = beyond ? *wishes.secondary_z_m - wishes.focal_length_m
                            : wishes.focal_length_m - *wishes.secondary_z_m;
    const double inverse = beyond ? 2.0 / r - 1.0 / p : 1.0 / p - 2.0 / r;
    return {p, 1.0 / inverse};
  }
  const double root = std::hypot(reach, r);
  if (!beyond) {
    const double p = r * reach / (reach + r + root);
    return {p, reach - p};
  }
  const double p = 0.5 * (r - reach + root);
  return {p, reach + p};
}

/// p and q from two knowns. `reach` is from the receiver up to the facets' focus.
Lengths lengths_of(const TwoMirrorWishes& wishes) {
  const bool beyond = is_beyond(wishes);
  const double f = wishes.focal_length_m;
  const double reach = wishes.receiver_z_m ? f - *wishes.receiver_z_m : 0.0;
  if (wishes.radius_m) return from_radius(wishes, reach);
  if (wishes.secondary_z_m) {
    const double p = beyond ? *wishes.secondary_z_m - f : f - *wishes.secondary_z_m;
    if (wishes.magnification) return {p, *wishes.magnification * p};
    return {p, *wishes.secondary_z_m - *wishes.receiver_z_m};
  }
  const double m = *wishes.magnification;
  const double p = beyond ? reach / (m - 1.0) : reach / (m + 1.0);
  return {p, m * p};
}

dish::SecondaryForm form_of(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  const auto [p, q] = lengths;
  const double z = secondary_z(wishes, p);
  const double radius = is_beyond(wishes) ? -2.0 * p * q / (q + p) : 2.0 * p * q / (q - p);
  switch (wishes.form) {
    case MirrorForm::hyperboloid:
      return dish::HyperboloidSecondary{.near_focus_z_m = wishes.focal_length_m,
                                        .far_focus_z_m = z - q};
    case MirrorForm::ellipsoid:
      return dish::EllipsoidSecondary{.near_focus_z_m = wishes.focal_length_m,
                                      .far_focus_z_m = z - q};
    case MirrorForm::sphere:
      return dish::SphereSecondary{.radius_m = radius};
    case MirrorForm::paraboloid:
      return dish::ParaboloidSecondary{.focal_length_m = 0.5 * radius};
    case MirrorForm::flat:
      break;
  }
  return dish::FlatSecondary{};
}

/// Where the ray from the parent at a distance `r` from the axis meets the secondary.
struct SecondaryMeeting {
  base::Vec3 point{0.0};
  base::Vec3 direction{0.0};  ///< after it
};

std::optional<SecondaryMeeting> meet(const SecondaryMirror& mirror, double focal_length_m,
                                     double r) {
  const base::Vec3 start{r, 0.0, r * r / (4.0 * focal_length_m)};
  const base::Vec3 to_focus = base::unit(base::Vec3(0.0, 0.0, focal_length_m) - start);
  const auto hit = hit_mirror_side(mirror, start, to_focus);
  if (!hit) return std::nullopt;
  return SecondaryMeeting{hit->point, base::reflect(to_focus, hit->normal)};
}

/// A mirror wide enough to be asked where rays meet it.
Result<SecondaryMirror> endless(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  dish::Secondary secondary;
  secondary.form = form_of(wishes, lengths);
  secondary.vertex_m = {0.0, 0.0, secondary_z(wishes, lengths.p)};
  secondary.diameter_m = 1e-3 * std::min(lengths.p, lengths.q);
  secondary.hole_diameter_m = 0.0;
  return secondary_mirror(secondary);
}

Problem place_problem(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  const double f = wishes.focal_length_m;
  const char* side = is_beyond(wishes) ? "above" : "below";
  const auto& [p, q] = lengths;
  if (!(std::isfinite(p) && p > k_least_m)) {
    return {"secondary_z_mm",
            std::isfinite(p) ? fmt::format("{:.1f} mm", 1e3 * secondary_z(wishes, p)) : "nowhere",
            fmt::format("a place {} the facets' focus at {:.1f} mm: from the other side this form "
                        "cannot send the light to the receiver",
                        side, 1e3 * f)};
  }
  if (!(std::isfinite(q) && q > k_least_m)) {
    return {"receiver_z_mm",
            std::isfinite(q) ? fmt::format("{:.1f} mm", 1e3 * (secondary_z(wishes, p) - q))
                             : "infinitely far",
            fmt::format("a place below the secondary at {:.1f} mm: it sends its light down, and "
                        "must draw it together",
                        1e3 * secondary_z(wishes, p))};
  }
  return {"secondary_z_mm", fmt::format("{:.1f} mm", 1e3 * secondary_z(wishes, p)),
          "a place above the facets"};
}

bool is_possible(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  return std::isfinite(lengths.p) && std::isfinite(lengths.q) && lengths.p > k_least_m &&
         lengths.q > k_least_m && secondary_z(wishes, lengths.p) > k_least_m;
}

std::optional<double> edge_radius(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  if (!is_possible(wishes, lengths)) return std::nullopt;
  const auto mirror = endless(wishes, lengths);
  if (!mirror) return std::nullopt;
  const auto met = meet(mirror.value(), wishes.focal_length_m, wishes.aperture_radius_m);
  if (!met) return std::nullopt;
  return met->point.x * (is_beyond(wishes) ? -1.0 : 1.0);
}

/// p so that the rim's ray meets the edge of a given diameter: bisection, the edge growing with p.
Result<Lengths> lengths_for_diameter(const TwoMirrorWishes& wishes) {
  const auto with = [&](double p) -> Lengths {
    if (wishes.form == MirrorForm::flat) return {p, p};
    if (wishes.magnification) return {p, *wishes.magnification * p};
    const double reach = wishes.focal_length_m - *wishes.receiver_z_m;
    return {p, is_beyond(wishes) ? reach + p : reach - p};
  };
  const double wanted = 0.5 * *wishes.diameter_m / wishes.margin;
  double low = k_least_m;
  double high = 10.0 * wishes.focal_length_m;
  for (int step = 0; step < 200 && high - low > 1e-15 * high; ++step) {
    const double middle = 0.5 * (low + high);
    const auto edge = edge_radius(wishes, with(middle));
    // A mirror that has gone too far to be possible is too large as well.
    (edge && *edge >= 0.0 && *edge < wanted ? low : high) = middle;
  }
  const Lengths found = with(low);
  const auto edge = edge_radius(wishes, found);
  if (edge && std::abs(*edge - wanted) < 1e-6 * wanted) return found;
  return Problem{"secondary_diameter_mm", fmt::format("{:.1f} mm", 1e3 * *wishes.diameter_m),
                 "a diameter that some place of the secondary needs"};
}

/// How many of the four places and sizes are known, and the problems of that.
Problems problems_of(const TwoMirrorWishes& wishes) {
  Problems problems;
  const auto above_zero = [&](const char* key, const std::optional<double>& value) {
    if (value && !(*value > 0.0 && std::isfinite(*value))) {
      problems.push_back({key, fmt::format("{}", *value), "a number above zero"});
    }
  };
  above_zero("secondary_magnification", wishes.magnification);
  above_zero("secondary_radius_m", wishes.radius_m);
  above_zero("secondary_diameter_mm", wishes.diameter_m);
  above_zero("focal_length_m", wishes.focal_length_m);
  above_zero("aperture_radius_m", wishes.aperture_radius_m);
  if (wishes.hole_diameter_m < 0.0) {
    problems.push_back(
        {"secondary_hole_mm", fmt::format("{}", 1e3 * wishes.hole_diameter_m), "zero or more"});
  }
  const bool flat = wishes.form == MirrorForm::flat;
  if (flat && (wishes.magnification || wishes.radius_m)) {
    problems.push_back({wishes.magnification ? "secondary_magnification" : "secondary_radius_m",
                        "given for a flat secondary", "a curved form"});
  }
  if (!flat && wishes.magnification && std::abs(*wishes.magnification - 1.0) < 1e-9 &&
      !is_beyond(wishes)) {
    problems.push_back(
        {"secondary_magnification", "1", "another; before the focus that is a flat"});
  }
  const int knowns = int{wishes.magnification.has_value()} + int{wishes.radius_m.has_value()} +
                     int{wishes.receiver_z_m.has_value()} + int{wishes.secondary_z_m.has_value()};
  const int needed = flat ? 1 : 2;
  const bool by_diameter =
      wishes.diameter_m && knowns == needed - 1 &&
      (flat || wishes.magnification.has_value() || wishes.receiver_z_m.has_value());
  if (knowns != needed && !by_diameter) {
    problems.push_back({"secondary_...", fmt::format("{} of its numbers known", knowns),
                        flat ? "one of secondary_z_mm, receiver_z_mm and secondary_diameter_mm"
                             : "two of secondary_magnification, receiver_z_mm, secondary_z_mm and "
                               "secondary_radius_m, or secondary_diameter_mm with one of the first "
                               "two"});
  }
  return problems;
}

/// Primary radius whose ray meets the secondary at a distance from its axis; the rim's when that
/// meets it nearer to the axis.
double primary_radius_at(const SecondaryMirror& mirror, const TwoMirrorWishes& wishes,
                         double on_secondary) {
  double low = 0.0;
  double high = wishes.aperture_radius_m;
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (low + high);
    const auto met = meet(mirror, wishes.focal_length_m, middle);
    (met && std::abs(met->point.x) <= on_secondary ? low : high) = middle;
  }
  return low;
}

void add_doubts(const TwoMirrorWishes& wishes, TwoMirror& solved) {
  auto& doubts = solved.doubts;
  if (solved.caught_share < 0.999) {
    doubts.push_back(
        fmt::format("{:.1f} % of the facets' light passes beside the secondary or "
                    "through its hole",
                    100.0 * (1.0 - solved.caught_share)));
  }
  if (solved.shaded_share > 0.2) {
    doubts.push_back(
        fmt::format("the secondary shades {:.0f} % of the dish", 100.0 * solved.shaded_share));
  }
  const bool exact = wishes.form != MirrorForm::sphere && wishes.form != MirrorForm::paraboloid;
  if (!exact && solved.rim_miss_m > 0.5 * solved.sun_image_m) {
    doubts.push_back(
        fmt::format("the rim's light lands {:.1f} mm from the middle; a {} would "
                    "gather it",
                    1e3 * solved.rim_miss_m, is_beyond(wishes) ? "ellipsoid" : "hyperboloid"));
  }
  if (solved.magnification < 1.0) {
    doubts.emplace_back(
        "it draws the light together before the focus: hollow, with a smaller "
        "image but wider angles");
  }
}

/// The rest of the figures, once p and q stand.
Result<TwoMirror> finish(const TwoMirrorWishes& wishes, const Lengths& lengths) {
  const auto [p, q] = lengths;
  if (!is_possible(wishes, lengths)) return place_problem(wishes, lengths);
  const auto mirror = endless(wishes, lengths);
  if (!mirror) return mirror.problems();
  TwoMirror solved;
  solved.to_near_focus_m = p;
  solved.to_receiver_m = q;
  solved.magnification = q / p;
  solved.height_ratio = p / wishes.focal_length_m;
  solved.effective_focal_length_m = solved.magnification * wishes.focal_length_m;
  const double bulge = mirror.value().is_flat ? 0.0 : -mirror.value().surface.uu;
  solved.vertex_radius_m = bulge == 0.0 ? 0.0 : 1.0 / bulge;
  if (wishes.form == MirrorForm::paraboloid) solved.conic_constant = -1.0;
  if (wishes.form == MirrorForm::hyperboloid || wishes.form == MirrorForm::ellipsoid) {
    const double e = is_beyond(wishes) ? (q - p) / (q + p) : (q + p) / (q - p);
    solved.conic_constant = -e * e;
  }
  solved.eccentricity = std::sqrt(-std::min(solved.conic_constant, 0.0));
  const double vertex_z = secondary_z(wishes, p);
  solved.receiver_z_m = vertex_z - q;
  solved.sun_image_m = 2.0 * solved.effective_focal_length_m * std::tan(wishes.half_angle_rad);
  const auto met = meet(mirror.value(), wishes.focal_length_m, wishes.aperture_radius_m);
  if (!met || !(met->direction.z < 0.0)) {
    return Problem{"secondary_z_mm", fmt::format("{:.1f} mm", 1e3 * vertex_z),
                   "a secondary that the light from the rim meets and leaves downward"};
  }
  solved.edge_radius_m = std::abs(met->point.x);
  solved.edge_z_m = met->point.z;
  solved.rim_angle_rad = 2.0 * std::atan(0.5 * wishes.aperture_radius_m / wishes.focal_length_m);
  const double sideways = std::abs(met->direction.x);
  solved.arriving_rim_angle_rad = std::atan2(sideways, -met->direction.z);
  const double way = (met->point.z - solved.receiver_z_m) / -met->direction.z;
  solved.rim_miss_m = std::abs(met->point.x + way * met->direction.x);

  dish::Secondary& secondary = solved.secondary;
  secondary = dish::default_secondary(wishes.focal_length_m);
  secondary.form = form_of(wishes, lengths);
  secondary.vertex_m = {0.0, 0.0, vertex_z};
  secondary.diameter_m = wishes.diameter_m.value_or(2.0 * solved.edge_radius_m * wishes.margin);
  secondary.hole_diameter_m = wishes.hole_diameter_m;
  if (const auto whole = secondary_mirror(secondary); !whole) return whole.problems();
  if (secondary.diameter_m >= 2.0 * wishes.aperture_radius_m) {
    return Problem{"secondary_diameter_mm", fmt::format("{:.1f} mm", 1e3 * secondary.diameter_m),
                   fmt::format("less than the dish's {:.1f} mm, which it would shade wholly",
                               2e3 * wishes.aperture_radius_m)};
  }
  const double outer = primary_radius_at(mirror.value(), wishes, 0.5 * secondary.diameter_m);
  const double inner = wishes.hole_diameter_m > 0.0
                           ? primary_radius_at(mirror.value(), wishes, 0.5 * wishes.hole_diameter_m)
                           : 0.0;
  const double rim2 = wishes.aperture_radius_m * wishes.aperture_radius_m;
  solved.caught_share = (outer * outer - inner * inner) / rim2;
  solved.shaded_share = 0.25 * secondary.diameter_m * secondary.diameter_m / rim2;
  add_doubts(wishes, solved);
  return solved;
}

}  // namespace

Result<TwoMirror> solve_two_mirror(const TwoMirrorWishes& wishes) {
  if (Problems problems = problems_of(wishes); !problems.empty()) return problems;
  const int places = int{wishes.magnification.has_value()} + int{wishes.radius_m.has_value()} +
                     int{wishes.receiver_z_m.has_value()} + int{wishes.secondary_z_m.has_value()};
  const bool flat = wishes.form == MirrorForm::flat;
  if (places < (flat ? 1 : 2)) {
    const auto lengths = lengths_for_diameter(wishes);
    if (!lengths) return lengths.problems();
    return finish(wishes, lengths.value());
  }
  if (flat) {
    const double p = wishes.secondary_z_m ? wishes.focal_length_m - *wishes.secondary_z_m
                                          : 0.5 * (wishes.focal_length_m - *wishes.receiver_z_m);
    return finish(wishes, {p, p});
  }
  return finish(wishes, lengths_of(wishes));
}

std::vector<dish::Edit> edits_of(const dish::Dish& dish, const TwoMirror& solved) {
  // What its glass is like stays; where and how it is formed is new.
  dish::Secondary secondary = dish.secondary.value_or(solved.secondary);
  secondary.form = solved.secondary.form;
  secondary.vertex_m = solved.secondary.vertex_m;
  secondary.tilt_rad = solved.secondary.tilt_rad;
  secondary.diameter_m = solved.secondary.diameter_m;
  secondary.hole_diameter_m = solved.secondary.hole_diameter_m;
  dish::Receiver receiver = dish.receiver;
  receiver.centre_m = {0.0, 0.0, solved.receiver_z_m};
  receiver.lit_normal = {0.0, 0.0, 1.0};
  return {dish::edit::SetSecondary{secondary}, dish::edit::SetReceiver{receiver}};
}

TwoMirrorWishes wishes_for(const dish::Dish& dish, MirrorForm form) {
  TwoMirrorWishes wishes;
  wishes.form = form;
  wishes.focal_length_m = dish.focal_length_m;
  wishes.aperture_radius_m = dish::aperture_of(dish).rim_radius_m;
  wishes.half_angle_rad = dish.sun.half_angle_rad;
  return wishes;
}

}  // namespace optics
