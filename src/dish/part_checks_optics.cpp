// Secondary, receiver, things that shade, sun and site.
#include <fmt/format.h>

#include <cmath>

#include "dish/part_checks.h"

namespace dish {
namespace {

using base::Problems;
using ranges::Quantity;

/// A hyperboloid stands between its foci, nearer to the one the facets aim at; a plane half way
/// between them would have no curvature, and beyond that it would bend the other way.
void judge_hyperboloid(Judge& judge, const HyperboloidSecondary& form, double vertex_z) {
  judge.number(Quantity::near_focus_z, form.near_focus_z_m);
  judge.number(Quantity::far_focus_z, form.far_focus_z_m);
  if (!judge.clean()) return;
  const std::string foci = fmt::format("vertex at z = {:.6g} m, foci at {:.6g} and {:.6g} m",
                                       vertex_z, form.near_focus_z_m, form.far_focus_z_m);
  if (!(form.far_focus_z_m < vertex_z && vertex_z < form.near_focus_z_m)) {
    judge.problem(foci,
                  "a hyperboloid's vertex between the far focus below and the near one above");
  } else if (!(form.near_focus_z_m - vertex_z < vertex_z - form.far_focus_z_m)) {
    judge.problem(foci, "a hyperboloid's vertex nearer to the near focus than to the far one");
  }
}

void judge_ellipsoid(Judge& judge, const EllipsoidSecondary& form, double vertex_z) {
  judge.number(Quantity::near_focus_z, form.near_focus_z_m);
  judge.number(Quantity::far_focus_z, form.far_focus_z_m);
  if (!judge.clean()) return;
  if (!(form.far_focus_z_m < form.near_focus_z_m && form.near_focus_z_m < vertex_z))
    judge.problem(fmt::format("vertex at z = {:.6g} m, foci at {:.6g} and {:.6g} m", vertex_z,
                              form.near_focus_z_m, form.far_focus_z_m),
                  "an ellipsoid's vertex above its near focus, and the far focus below that");
}

void judge_form(Judge& judge, const Secondary& secondary) {
  const double vertex_z = secondary.vertex_m.z;
  if (const auto* form = std::get_if<HyperboloidSecondary>(&secondary.form))
    judge_hyperboloid(judge, *form, vertex_z);
  if (const auto* form = std::get_if<EllipsoidSecondary>(&secondary.form))
    judge_ellipsoid(judge, *form, vertex_z);
  if (const auto* form = std::get_if<ParaboloidSecondary>(&secondary.form))
    judge.number(Quantity::secondary_focal_length, form->focal_length_m);
  const auto* sphere = std::get_if<SphereSecondary>(&secondary.form);
  if (sphere == nullptr) return;
  judge.number(Quantity::secondary_radius, sphere->radius_m);
  if (judge.clean() && !(2.0 * std::abs(sphere->radius_m) > secondary.diameter_m))
    judge.problem(fmt::format("a sphere of {:.6g} m radius", sphere->radius_m),
                  fmt::format("a radius of more than half the secondary's diameter of {:.6g} m",
                              secondary.diameter_m));
}

}  // namespace

Problems problems_of(const Secondary& secondary) {
  Judge judge("secondary");
  judge.point(Quantity::secondary_vertex, secondary.vertex_m);
  judge.pair(Quantity::secondary_tilt, secondary.tilt_rad);
  judge.number(Quantity::secondary_diameter, secondary.diameter_m);
  judge.number(Quantity::hole_diameter, secondary.hole_diameter_m);
  judge.number(Quantity::reflectance, secondary.reflectance);
  judge.number(Quantity::cleanliness, secondary.cleanliness);
  judge.number(Quantity::slope_error, secondary.slope_error_rad);
  judge.number(Quantity::specularity_error, secondary.specularity_error_rad);
  if (judge.clean() && !(secondary.hole_diameter_m < secondary.diameter_m))
    judge.problem(
        ranges::value_text(Quantity::hole_diameter, secondary.hole_diameter_m) + " of hole",
        "a hole smaller than the secondary's diameter of " +
            ranges::value_text(Quantity::secondary_diameter, secondary.diameter_m));
  judge_form(judge, secondary);
  Problems problems = judge.take();
  if (secondary.coating) {
    for (base::Problem& problem : problems_of(*secondary.coating, "secondary, coating"))
      problems.push_back(std::move(problem));
  }
  return problems;
}

Problems problems_of(const Receiver& receiver) {
  Judge judge("receiver");
  if (const auto* disc = std::get_if<DiscReceiver>(&receiver.shape))
    judge.number(Quantity::receiver_diameter, disc->diameter_m);
  if (const auto* rectangle = std::get_if<RectangleReceiver>(&receiver.shape)) {
    judge.number(Quantity::receiver_width, rectangle->width_m);
    judge.number(Quantity::receiver_height, rectangle->height_m);
  }
  judge.point(Quantity::receiver_centre, receiver.centre_m);
  judge.direction("lit_normal", receiver.lit_normal);
  judge.point(Quantity::direction, receiver.up);
  judge.number(Quantity::absorptance, receiver.absorptance);
  return judge.take();
}

Problems problems_of(const Sun& sun) {
  Judge judge("sun");
  judge.number(Quantity::sun_half_angle, sun.half_angle_rad);
  judge.number(Quantity::dni, sun.dni_W_m2);
  if (const auto* limb = std::get_if<LimbDarkenedSun>(&sun.shape))
    judge.number(Quantity::limb_darkening, limb->coefficient);
  if (const auto* gaussian = std::get_if<GaussianSun>(&sun.shape))
    judge.number(Quantity::sun_sigma, gaussian->sigma_rad);
  if (const auto* circumsolar = std::get_if<CircumsolarSun>(&sun.shape))
    judge.number(Quantity::circumsolar_ratio, circumsolar->ratio);
  return judge.take();
}

Problems problems_of(const Site& site) {
  Judge judge("site");
  judge.number(Quantity::latitude, site.latitude_deg);
  judge.number(Quantity::longitude, site.longitude_deg);
  judge.number(Quantity::altitude, site.altitude_m);
  return judge.take();
}

Problems problems_of(const Blocker& blocker, const std::string& place) {
  Judge judge(place);
  if (const auto* disc = std::get_if<DiscBlocker>(&blocker.shape)) {
    judge.point(Quantity::blocker_place, disc->centre_m);
    judge.direction("normal", disc->normal);
    judge.number(Quantity::blocker_diameter, disc->diameter_m);
  }
  if (const auto* box = std::get_if<BoxBlocker>(&blocker.shape)) {
    judge.point(Quantity::blocker_place, box->centre_m);
    judge.direction("x", box->x);
    judge.direction("y", box->y);
    judge.point(Quantity::blocker_size, box->size_m);
    if (judge.clean() && std::abs(glm::dot(box->x, box->y)) > 1e-9)
      judge.problem("its x and y directions are not square to each other", "a right angle");
  }
  if (const auto* tube = std::get_if<TubeBlocker>(&blocker.shape)) {
    judge.point(Quantity::blocker_place, tube->from_m);
    judge.point(Quantity::blocker_place, tube->to_m);
    judge.number(Quantity::blocker_diameter, tube->diameter_m);
    if (judge.clean() && tube->from_m == tube->to_m)
      judge.problem("a tube that ends where it begins", "two different ends");
  }
  return judge.take();
}

}  // namespace dish
