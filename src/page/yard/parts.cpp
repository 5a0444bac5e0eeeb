// Bodies are placed in the dish frame and turned into the world at once.
#include "page/yard/parts.h"

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "optics/quadric.h"

namespace yard {
namespace {

constexpr double k_plate_thickness_m = 0.018;
constexpr double k_screw_radius_m = 0.008;

struct Builder {
  Solids& solids;
  const base::Pose& world_from_dish;

  [[nodiscard]] base::Vec3 point(const base::Vec3& dish) const {
    return base::point_to_outer(world_from_dish, dish);
  }
  [[nodiscard]] base::Vec3 direction(const base::Vec3& dish) const {
    return base::direction_to_outer(world_from_dish, dish);
  }
  void operator()(const dish::DiscBlocker& disc) const {
    add_plate(solids,
              {point(disc.centre_m), direction(base::unit(disc.normal)), 0.5 * disc.diameter_m},
              0.006, Ink::structure);
  }
  void operator()(const dish::TubeBlocker& tube) const {
    add_tube(solids, point(tube.from_m), point(tube.to_m), 0.5 * tube.diameter_m, Ink::structure);
  }
  void operator()(const dish::BoxBlocker& box) const {
    const base::Vec3 x = base::unit(box.x);
    const base::Vec3 z = base::unit(glm::cross(x, box.y));
    const base::Pose pose{point(box.centre_m),
                          world_from_dish.axes * base::Mat3(x, glm::cross(z, x), z)};
    add_box(solids, pose, box.size_m, Ink::structure);
  }
};

void add_receiver(const Builder& build, const dish::Receiver& receiver) {
  const base::Mat3 board = base::frame_of_board(receiver.lit_normal, receiver.up);
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) {
    add_plate(build.solids,
              {build.point(receiver.centre_m), build.direction(board[2]), 0.5 * disc->diameter_m},
              k_plate_thickness_m, Ink::receiver);
    return;
  }
  const auto& plate = std::get<dish::RectangleReceiver>(receiver.shape);
  const base::Vec3 middle = receiver.centre_m - 0.5 * k_plate_thickness_m * board[2];
  add_box(build.solids, {build.point(middle), build.world_from_dish.axes * board},
          {plate.width_m, plate.height_m, k_plate_thickness_m}, Ink::receiver);
}

// The post, and a hub behind the vertex: a hint of the frame, no more.
void add_stand(const Builder& build, const Ground& ground) {
  const double reach = ground.reach_m;
  const double thick = std::clamp(0.016 * reach, 0.015, 0.10);
  add_tube(build.solids, {0.0, 0.0, 0.0}, ground.pivot_world, thick, Ink::structure, 20);
  add_plate(build.solids, {{0.0, 0.0, 0.012}, {0.0, 0.0, 1.0}, 4.0 * thick}, 0.012, Ink::structure);
  add_tube(build.solids, ground.pivot_world - base::Vec3(3.0 * thick, 0.0, 0.0),
           ground.pivot_world + base::Vec3(3.0 * thick, 0.0, 0.0), 1.3 * thick, Ink::structure, 20);
  add_tube(build.solids, ground.pivot_world, build.point({0.0, 0.0, -0.02 * reach}), thick,
           Ink::structure, 20);
}

}  // namespace

Solids make_parts(const dish::Dish& dish, const Ground& ground) {
  Solids solids;
  const Builder build{solids, ground.world_from_dish};
  add_stand(build, ground);
  add_receiver(build, dish.receiver);
  for (const dish::Blocker& blocker : dish.blockers) std::visit(build, blocker.shape);
  return solids;
}

void add_secondary(Solids& solids, const optics::SecondaryMirror& secondary, const Ground& ground) {
  const Builder build{solids, ground.world_from_dish};
  constexpr std::uint32_t k_rings = 10;
  constexpr std::uint32_t k_steps = 64;
  const auto first = static_cast<std::uint32_t>(solids.vertices.size());
  for (std::uint32_t ring = 0; ring <= k_rings; ++ring) {
    const double share = static_cast<double>(ring) / k_rings;
    const double radius =
        secondary.hole_radius_m + share * (secondary.rim_radius_m - secondary.hole_radius_m);
    for (std::uint32_t step = 0; step < k_steps; ++step) {
      const double angle = 2.0 * base::k_pi * step / k_steps;
      const double u = radius * std::cos(angle);
      const double v = radius * std::sin(angle);
      const base::Vec3 point{u, v, optics::sag(secondary.surface, u, v)};
      const base::Vec3 normal = optics::normal_at(secondary.surface, point);
      const base::Pose& pose = secondary.dish_from_secondary;
      solids.vertices.push_back({glm::vec3(build.point(base::point_to_outer(pose, point))),
                                 glm::vec3(build.direction(base::direction_to_outer(pose, normal))),
                                 Ink::secondary});
    }
  }
  for (std::uint32_t ring = 0; ring < k_rings; ++ring) {
    for (std::uint32_t step = 0; step < k_steps; ++step) {
      const std::uint32_t a = first + ring * k_steps + step;
      const std::uint32_t b = first + ring * k_steps + (step + 1) % k_steps;
      solids.indices.insert(solids.indices.end(), {a, a + k_steps, b, b, a + k_steps, b + k_steps});
    }
  }
}

std::vector<ScrewPlace> screw_places(const dish::Dish& dish, const dish::Facet& facet,
                                     const adjusters::FacePose& nominal, const Ground& ground) {
  std::vector<ScrewPlace> places;
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  if (mount == nullptr) return places;
  const auto bracket = adjusters::bracket_of(facet, mount, nominal);
  if (!bracket) return places;
  const base::Pose& from_bracket = bracket.value().dish_from_bracket;
  for (std::size_t i = 0; i < 3; ++i) {
    const dish::Adjuster& screw = mount->adjusters[i];
    const bool from_back = screw.turned_from == dish::Side::back;
    // A head stands behind the bracket, or on the face of a facet whose screws are turned there.
    const double height = from_back ? -0.004 : mount->standoff_m + mount->face_offset_m + 0.004;
    const base::Vec3 outward = from_back ? -from_bracket.z() : from_bracket.z();
    const base::Vec2& seat = bracket.value().seats_m[i];
    const base::Vec3 head = base::point_to_outer(from_bracket, {seat.x, seat.y, height});
    places.push_back({base::point_to_outer(ground.world_from_dish, head),
                      base::direction_to_outer(ground.world_from_dish, outward), screw.label});
  }
  return places;
}

void add_screws(Solids& solids, const std::vector<ScrewPlace>& screws, bool lit) {
  const Ink ink = lit ? Ink::screw_lit : Ink::screw;
  const double radius = lit ? 1.3 * k_screw_radius_m : k_screw_radius_m;
  for (const ScrewPlace& screw : screws) {
    const base::Vec3 top = screw.head_world + 0.006 * screw.outward_world;
    add_plate(solids, {top, screw.outward_world, radius}, 0.006, ink, 16);
    add_tube(solids, screw.head_world, screw.head_world - 0.03 * screw.outward_world, 0.35 * radius,
             ink, 8);
  }
}

}  // namespace yard
