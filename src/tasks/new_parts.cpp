// Facet kind, mount, receiver and secondary of a new dish.
#include "tasks/new_parts.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "dish/defaults.h"
#include "dish/outline_facts.h"
#include "optics/two_mirror.h"

namespace tasks {
namespace {

constexpr double k_screw_share = 0.35;      ///< of the facet's width; common practice, no source
constexpr double k_secondary_margin = 1.1;  ///< for the sun's width and errors
constexpr double k_receiver_share = 0.05;   ///< height of a receiver below a secondary, of f

/// Where the secondary's vertex lies when nobody says.
double usual_vertex_z(SecondaryKind kind, double focal_length_m, double receiver_z_m) {
  if (kind == SecondaryKind::flat) return 0.5 * (focal_length_m + receiver_z_m);
  return (kind == SecondaryKind::ellipsoid ? 1.2 : 0.8) * focal_length_m;
}

/// Radius at the vertex that images the focus onto the receiver: the mirror equation
/// 1/s' = 1/s - 2/R with s from vertex to focus (behind the mirror: positive) and s' from vertex
/// to receiver; R is positive when the mirror bulges toward the facets.
/// Source: any textbook of geometrical optics (from memory).
double imaging_radius(double vertex_z_m, double focus_z_m, double receiver_z_m) {
  const double to_focus = focus_z_m - vertex_z_m;
  const double to_receiver = vertex_z_m - receiver_z_m;
  return 2.0 / (1.0 / to_focus - 1.0 / to_receiver);
}

/// Diameter that takes the light of every facet on its way to the focus, at the vertex's height.
double light_diameter(const dish::Dish& dish, double vertex_z_m) {
  double radius = 0.0;
  for (const dish::Facet& facet : dish.facets) {
    const dish::FacetType* type = dish::find_facet_type(dish, facet.type);
    const double to_focus = dish.focal_length_m - facet.centre_m.z;
    if (type == nullptr || to_focus <= 0.0) continue;
    const double rim =
        std::hypot(facet.centre_m.x, facet.centre_m.y) + dish::bounding_radius(type->outline);
    radius = std::max(radius, rim * std::abs(dish.focal_length_m - vertex_z_m) / to_focus);
  }
  return 2.0 * k_secondary_margin * radius;
}

dish::SecondaryForm form_of(const NewRequest& request, const dish::Dish& dish, double vertex_z) {
  const double focus = dish.focal_length_m;
  const double receiver = dish.receiver.centre_m.z;
  const double radius =
      request.secondary_radius_m.value_or(imaging_radius(vertex_z, focus, receiver));
  switch (request.secondary) {
    case SecondaryKind::hyperboloid:
      return dish::HyperboloidSecondary{.near_focus_z_m = focus, .far_focus_z_m = receiver};
    case SecondaryKind::ellipsoid:
      return dish::EllipsoidSecondary{.near_focus_z_m = focus, .far_focus_z_m = receiver};
    case SecondaryKind::sphere:
      return dish::SphereSecondary{.radius_m = radius};
    case SecondaryKind::paraboloid:
      return dish::ParaboloidSecondary{.focal_length_m = 0.5 * radius};
    case SecondaryKind::none:
    case SecondaryKind::flat:
      break;
  }
  return dish::FlatSecondary{};
}

/// Whether more is known than places, so that the usual ones would contradict it.
bool is_solved(const NewRequest& request) {
  const bool is_conic = request.secondary == SecondaryKind::hyperboloid ||
                        request.secondary == SecondaryKind::ellipsoid;
  return request.secondary_magnification || request.secondary_place ||
         (is_conic && request.secondary_radius_m);
}

base::Problems solve_secondary(const NewRequest& request, dish::Dish& dish) {
  constexpr std::array<optics::MirrorForm, 6> k_forms{
      optics::MirrorForm::flat,      optics::MirrorForm::flat,   optics::MirrorForm::hyperboloid,
      optics::MirrorForm::ellipsoid, optics::MirrorForm::sphere, optics::MirrorForm::paraboloid};
  optics::TwoMirrorWishes wishes =
      optics::wishes_for(dish, k_forms[static_cast<std::size_t>(request.secondary)]);
  wishes.is_beyond_focus = request.secondary_place == SecondaryPlace::beyond_focus;
  wishes.magnification = request.secondary_magnification;
  wishes.receiver_z_m = request.receiver_z_m;
  wishes.secondary_z_m = request.secondary_z_m;
  if (request.secondary_radius_m) wishes.radius_m = std::abs(*request.secondary_radius_m);
  wishes.diameter_m = request.secondary_diameter_m;
  wishes.hole_diameter_m = request.secondary_hole_m.value_or(0.0);
  wishes.margin = k_secondary_margin;
  const int knowns = int{wishes.magnification.has_value()} + int{wishes.radius_m.has_value()} +
                     int{wishes.receiver_z_m.has_value()} + int{wishes.secondary_z_m.has_value()};
  // With one known the receiver stands where it usually does, unless the diameter says.
  if (knowns < 2 && !wishes.receiver_z_m && !wishes.diameter_m) {
    wishes.receiver_z_m = dish.receiver.centre_m.z;
  }
  if (knowns == 0 || (knowns == 1 && request.receiver_z_m && !wishes.diameter_m)) {
    wishes.secondary_z_m =
        usual_vertex_z(wishes.is_beyond_focus ? SecondaryKind::ellipsoid : request.secondary,
                       dish.focal_length_m, *wishes.receiver_z_m);
  }
  const auto solved = optics::solve_two_mirror(wishes);
  if (!solved) return solved.problems();
  for (const dish::Edit& edit : optics::edits_of(dish, solved.value())) {
    auto changed = dish::apply(dish, edit);
    if (!changed) return changed.problems();
    dish = std::move(changed).value();
  }
  return {};
}

}  // namespace

base::Problems problems_of_parts(const NewRequest& request) {
  base::Problems problems;
  const bool none = request.secondary == SecondaryKind::none;
  const bool curved =
      request.secondary == SecondaryKind::sphere || request.secondary == SecondaryKind::paraboloid;
  if (none && (request.secondary_z_m || request.secondary_diameter_m || request.secondary_hole_m)) {
    problems.push_back({"secondary_...", "given without a secondary", "secondary and its form"});
  }
  const bool flat = none || request.secondary == SecondaryKind::flat;
  if (request.secondary_radius_m && flat) {
    problems.push_back(
        {"secondary_radius_m", "given for a form that has none", "a curved secondary"});
  }
  if (request.secondary_magnification && flat) {
    problems.push_back(
        {"secondary_magnification", "given without a curved secondary", "a curved secondary"});
  }
  if (request.secondary_place && !curved) {
    problems.push_back({"secondary_place", "given for a form that has only one",
                        "secondary sphere or paraboloid"});
  }
  if (request.receiver_diameter_m && (request.receiver_width_m || request.receiver_height_m)) {
    problems.push_back({"receiver_diameter_mm", "given beside a width or height",
                        "a diameter, or a width and a height"});
  }
  if (request.receiver_height_m && !request.receiver_width_m) {
    problems.push_back({"receiver_height_mm", "given without a width", "receiver_width_mm too"});
  }
  if (request.surface_focal_length_m && request.surface == SurfaceKind::flat) {
    problems.push_back({"surface_focal_length_m", "given for flat facets", "another surface"});
  }
  return problems;
}

dish::FacetType facet_kind(const NewRequest& request, double focal_length_m) {
  const double focal = request.surface_focal_length_m.value_or(focal_length_m);
  dish::FacetType kind;
  switch (request.surface.value_or(SurfaceKind::spherical)) {
    case SurfaceKind::flat:
      kind.surface = dish::Flat{};
      break;
    case SurfaceKind::spherical:
      kind.surface = dish::Spherical{.radius_m = 2.0 * focal};
      break;
    case SurfaceKind::paraboloid:
      kind.surface = dish::Paraboloid{.focal_length_m = focal};
      break;
    case SurfaceKind::off_axis:
      kind.surface = dish::OffAxisParaboloid{
          .focal_length_m = focal, .off_axis_m = std::nullopt, .meridian_rad = std::nullopt};
      break;
  }
  kind.reflectance = request.reflectance.value_or(kind.reflectance);
  kind.slope_error_rad = request.slope_error_rad.value_or(kind.slope_error_rad);
  kind.specularity_error_rad = request.specularity_error_rad.value_or(kind.specularity_error_rad);
  return kind;
}

dish::Mount mount_for(const NewRequest& request, double facet_m) {
  dish::Mount mount = dish::default_mount();
  const double usual = mount.adjusters[0].y_m;  // the first screw stands straight up
  const double circle = request.screw_radius_m.value_or(std::min(usual, k_screw_share * facet_m));
  mount.lie = request.bracket;
  if (request.clicks_per_turn) mount.clicks_per_turn = static_cast<int>(*request.clicks_per_turn);
  for (dish::Adjuster& screw : mount.adjusters) {
    screw.x_m *= circle / usual;
    screw.y_m *= circle / usual;
    screw.pitch_m = request.screw_pitch_m.value_or(screw.pitch_m);
    screw.turned_from = request.turned_from;
    if (request.travel_m) {
      screw.travel_min_m = -*request.travel_m;
      screw.travel_max_m = *request.travel_m;
    }
  }
  return mount;
}

void add_receiver(const NewRequest& request, dish::Dish& dish) {
  const bool folded = request.secondary != SecondaryKind::none;
  dish.receiver = dish::default_receiver(dish.focal_length_m);
  const double usual = folded ? k_receiver_share * dish.focal_length_m : dish.focal_length_m;
  dish.receiver.centre_m = {0.0, 0.0, request.receiver_z_m.value_or(usual)};
  dish.receiver.lit_normal = {0.0, 0.0, folded ? 1.0 : -1.0};
  dish.receiver.absorptance = request.absorptance.value_or(dish.receiver.absorptance);
  if (request.receiver_diameter_m) {
    dish.receiver.shape = dish::DiscReceiver{.diameter_m = *request.receiver_diameter_m};
  }
  if (request.receiver_width_m) {
    dish.receiver.shape = dish::RectangleReceiver{
        .width_m = *request.receiver_width_m,
        .height_m = request.receiver_height_m.value_or(*request.receiver_width_m)};
  }
}

base::Problems add_secondary(const NewRequest& request, dish::Dish& dish) {
  if (request.secondary == SecondaryKind::none) return {};
  if (is_solved(request)) return solve_secondary(request, dish);
  const double vertex_z = request.secondary_z_m.value_or(
      usual_vertex_z(request.secondary, dish.focal_length_m, dish.receiver.centre_m.z));
  dish::Secondary secondary = dish::default_secondary(dish.focal_length_m);
  secondary.vertex_m = {0.0, 0.0, vertex_z};
  secondary.form = form_of(request, dish, vertex_z);
  secondary.diameter_m = request.secondary_diameter_m.value_or(light_diameter(dish, vertex_z));
  secondary.hole_diameter_m = request.secondary_hole_m.value_or(0.0);
  dish.secondary = secondary;
  return {};
}

}  // namespace tasks
