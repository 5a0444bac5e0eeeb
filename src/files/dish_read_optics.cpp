// Sun, site, secondary, receiver and the parts that only shade.
#include <fmt/format.h>

#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

dish::SecondaryForm read_secondary_form(ObjectReader& object, double f_m) {
  object.require("form", list_of_words(k_secondary_forms));
  int form = 0;
  object.choice("form", k_secondary_forms, form);
  if (form == 1) {
    dish::HyperboloidSecondary hyperboloid{.near_focus_z_m = f_m};
    object.number(Quantity::near_focus_z, hyperboloid.near_focus_z_m);
    object.number(Quantity::far_focus_z, hyperboloid.far_focus_z_m);
    return hyperboloid;
  }
  if (form == 2) {
    dish::EllipsoidSecondary ellipsoid{.near_focus_z_m = f_m};
    object.number(Quantity::near_focus_z, ellipsoid.near_focus_z_m);
    object.number(Quantity::far_focus_z, ellipsoid.far_focus_z_m);
    return ellipsoid;
  }
  if (form == 3) {
    dish::SphereSecondary sphere;
    object.require("radius_m", dish::ranges::range_text(Quantity::secondary_radius));
    object.number(Quantity::secondary_radius, sphere.radius_m);
    return sphere;
  }
  if (form == 4) {
    dish::ParaboloidSecondary paraboloid;
    object.require("focal_length_m", dish::ranges::range_text(Quantity::secondary_focal_length));
    object.number(Quantity::secondary_focal_length, paraboloid.focal_length_m);
    return paraboloid;
  }
  return dish::FlatSecondary{};
}

/// Where the light gathers on the axis, for a receiver that does not say where it stands: at the
/// focus, or where a secondary sends it. It faces the mirror that lights it.
dish::Receiver receiver_at_focus(const dish::Dish& dish) {
  dish::Receiver receiver;
  receiver.centre_m = {0.0, 0.0, dish.focal_length_m};
  if (!dish.secondary) return receiver;
  const double vertex_z = dish.secondary->vertex_m.z;
  double z = 0.0;
  if (const auto* form = std::get_if<dish::HyperboloidSecondary>(&dish.secondary->form)) {
    z = form->far_focus_z_m;
  } else if (const auto* hollow = std::get_if<dish::EllipsoidSecondary>(&dish.secondary->form)) {
    z = hollow->far_focus_z_m;
  } else if (std::holds_alternative<dish::FlatSecondary>(dish.secondary->form)) {
    z = 2.0 * vertex_z - dish.focal_length_m;
  }
  receiver.centre_m = {0.0, 0.0, z};
  receiver.lit_normal = {0.0, 0.0, z < vertex_z ? 1.0 : -1.0};
  return receiver;
}

dish::ReceiverShape read_receiver_shape(ObjectReader& object) {
  int shape = 0;
  object.choice("shape", k_receiver_shapes, shape);
  if (shape == 1) {
    dish::RectangleReceiver rectangle;
    object.number(Quantity::receiver_width, rectangle.width_m);
    object.number(Quantity::receiver_height, rectangle.height_m);
    return rectangle;
  }
  dish::DiscReceiver disc;
  object.number(Quantity::receiver_diameter, disc.diameter_m);
  return disc;
}

dish::DiscBlocker read_disc(ObjectReader& object) {
  dish::DiscBlocker disc;
  object.require("centre_mm", "its centre in the dish frame, [x, y, z]");
  object.vec3("centre_mm", Quantity::blocker_place, disc.centre_m);
  object.direction("normal", disc.normal);
  object.number(Quantity::blocker_diameter, disc.diameter_m);
  return disc;
}

dish::BoxBlocker read_box(ObjectReader& object) {
  dish::BoxBlocker box;
  object.require("centre_mm", "its centre in the dish frame, [x, y, z]");
  object.vec3("centre_mm", Quantity::blocker_place, box.centre_m);
  object.axes(box.x, box.y);
  object.vec3(Quantity::blocker_size, box.size_m);
  return box;
}

dish::TubeBlocker read_tube(ObjectReader& object) {
  dish::TubeBlocker tube;
  object.require("from_mm", "one end in the dish frame, [x, y, z]");
  object.require("to_mm", "the other end in the dish frame, [x, y, z]");
  object.vec3("from_mm", Quantity::blocker_place, tube.from_m);
  object.vec3("to_mm", Quantity::blocker_place, tube.to_m);
  object.number(Quantity::blocker_diameter, tube.diameter_m);
  return tube;
}

dish::Blocker read_blocker(ReadLog& log, const JsonValue& value, const std::string& place,
                           std::size_t i) {
  dish::Blocker blocker{.name = fmt::format("part {}", i + 1)};
  ObjectReader object(log, value, place, "blocker");
  object.name("name", blocker.name);
  object.require("shape", list_of_words(k_blocker_shapes));
  int shape = 0;
  object.choice("shape", k_blocker_shapes, shape);
  if (shape == 0) blocker.shape = read_disc(object);
  if (shape == 1) blocker.shape = read_box(object);
  if (shape == 2) blocker.shape = read_tube(object);
  object.finish();
  return blocker;
}

dish::SunShape read_sun_shape(ObjectReader& object) {
  int shape = 0;
  object.choice("shape", k_sun_shapes, shape);
  if (shape == 1) {
    dish::LimbDarkenedSun limb;
    object.number(Quantity::limb_darkening, limb.coefficient);
    return limb;
  }
  if (shape == 2) {
    dish::GaussianSun gaussian;
    object.number(Quantity::sun_sigma, gaussian.sigma_rad);
    return gaussian;
  }
  if (shape == 3) {
    dish::CircumsolarSun circumsolar;
    object.number(Quantity::circumsolar_ratio, circumsolar.ratio);
    return circumsolar;
  }
  return dish::PillboxSun{};
}

}  // namespace

void read_sun(ObjectReader& root, dish::Dish& dish) {
  const JsonValue* value = root.find("sun");
  if (value == nullptr) return;
  ObjectReader object(root.log(), *value, "sun", "sun");
  object.number(Quantity::sun_half_angle, dish.sun.half_angle_rad);
  object.number(Quantity::dni, dish.sun.dni_W_m2);
  dish.sun.shape = read_sun_shape(object);
  object.finish();
}

void read_site(ObjectReader& root, dish::Dish& dish) {
  const JsonValue* value = root.find("site");
  if (value == nullptr) return;
  ObjectReader object(root.log(), *value, "site", "site");
  object.name("name", dish.site.name);
  object.number(Quantity::latitude, dish.site.latitude_deg);
  object.number(Quantity::longitude, dish.site.longitude_deg);
  object.number(Quantity::altitude, dish.site.altitude_m);
  object.finish();
}

void read_secondary(ObjectReader& root, dish::Dish& dish) {
  const JsonValue* value = root.find("secondary");
  if (value == nullptr) return;
  dish::Secondary secondary;
  ObjectReader object(root.log(), *value, "secondary", "secondary");
  secondary.form = read_secondary_form(object, dish.focal_length_m);
  object.require("vertex_mm", "its vertex in the dish frame, [x, y, z]");
  object.vec3(Quantity::secondary_vertex, secondary.vertex_m);
  object.vec2(Quantity::secondary_tilt, secondary.tilt_rad);
  object.number(Quantity::secondary_diameter, secondary.diameter_m);
  object.number(Quantity::hole_diameter, secondary.hole_diameter_m);
  read_finish(object, secondary.reflectance, secondary.coating, secondary.cleanliness);
  object.number(Quantity::slope_error, secondary.slope_error_rad);
  object.number(Quantity::specularity_error, secondary.specularity_error_rad);
  object.finish();
  dish.secondary = secondary;
}

void read_receiver(ObjectReader& root, dish::Dish& dish) {
  dish.receiver = receiver_at_focus(dish);
  const JsonValue* value = root.find("receiver");
  if (value == nullptr) return;
  dish::Receiver& receiver = dish.receiver;
  ObjectReader object(root.log(), *value, "receiver", "receiver");
  receiver.shape = read_receiver_shape(object);
  object.vec3(Quantity::receiver_centre, receiver.centre_m);
  object.direction("lit_normal", receiver.lit_normal);
  object.vec3("up", Quantity::direction, receiver.up);
  object.number(Quantity::absorptance, receiver.absorptance);
  object.flag("shades", receiver.shades);
  object.finish();
}

void read_blockers(ObjectReader& root, dish::Dish& dish) {
  read_list(root, "blockers", [&](std::size_t i, const JsonValue& item, const std::string& place) {
    dish.blockers.push_back(read_blocker(root.log(), item, place, i));
  });
}

}  // namespace files
