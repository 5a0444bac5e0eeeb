// Mounts with their adjusters, and springs.
#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

dish::Adjuster read_adjuster(ReadLog& log, const JsonValue& value, const std::string& place,
                             std::size_t i) {
  dish::Adjuster adjuster{.label = std::to_string(i + 1)};
  ObjectReader object(log, value, place, "adjuster");
  object.name("label", adjuster.label);
  object.require("x_mm", dish::ranges::range_text(Quantity::screw_x));
  object.require("y_mm", dish::ranges::range_text(Quantity::screw_y));
  object.number(Quantity::screw_x, adjuster.x_m);
  object.number(Quantity::screw_y, adjuster.y_m);
  object.number(Quantity::screw_pitch, adjuster.pitch_m);
  object.choice("hand", k_hands, adjuster.hand);
  object.choice("turned_from", k_sides, adjuster.turned_from);
  object.choice("carry", k_carries, adjuster.carry);
  object.number(Quantity::travel_min, adjuster.travel_min_m);
  object.number(Quantity::travel_max, adjuster.travel_max_m);
  object.finish();
  return adjuster;
}

dish::Mount read_mount(ReadLog& log, const std::string& name, const JsonValue& value,
                       const std::string& place) {
  dish::Mount mount{.name = {name}};
  ObjectReader object(log, value, place, "mount");
  object.choice("bracket_lies_along", k_lies, mount.lie);
  object.number(Quantity::face_offset, mount.face_offset_m);
  object.number(Quantity::standoff, mount.standoff_m);
  object.number(Quantity::caliper_offset, mount.caliper_offset_m);
  object.whole(Quantity::clicks_per_turn, mount.clicks_per_turn);
  object.number(Quantity::backlash, mount.backlash_turns);
  object.name("spring", mount.spring.text);
  object.require("adjusters", "a list of three adjusters");
  read_list(object, "adjusters", [&](std::size_t i, const JsonValue& item, const std::string& at) {
    mount.adjusters.push_back(read_adjuster(log, item, at, i));
  });
  object.finish();
  return mount;
}

dish::Spring read_spring(ReadLog& log, const std::string& name, const JsonValue& value,
                         const std::string& place) {
  dish::Spring spring{.name = {name}};
  ObjectReader object(log, value, place, "spring");
  object.number(Quantity::free_length, spring.free_length_m);
  object.number(Quantity::solid_length, spring.solid_length_m);
  object.number(Quantity::installed_length, spring.installed_length_m);
  object.number(Quantity::spring_rate, spring.rate_N_m);
  object.number(Quantity::least_force, spring.least_force_N);
  object.flag("pushes_to_sun", spring.pushes_to_sun);
  object.finish();
  return spring;
}

}  // namespace

void read_springs(ObjectReader& root, dish::Dish& dish) {
  read_named(root, "springs",
             [&](const std::string& name, const JsonValue& value, const std::string& place) {
               dish.springs.push_back(read_spring(root.log(), name, value, place));
             });
}

void read_mounts(ObjectReader& root, dish::Dish& dish) {
  read_named(root, "mounts",
             [&](const std::string& name, const JsonValue& value, const std::string& place) {
               dish.mounts.push_back(read_mount(root.log(), name, value, place));
             });
}

}  // namespace files
