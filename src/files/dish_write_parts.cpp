// Facet types, mounts, springs and facets as JSON values.
#include "files/dish_write_parts.h"

#include "files/json_cursor.h"
#include "files/words.h"

namespace files {
namespace {

using dish::ranges::Quantity;

JsonValue write_outline(const dish::Outline& outline, const UnknownByPlace& unknown,
                        const std::string& place) {
  ObjectWriter object;
  object.text("shape", word_of(k_outline_shapes, static_cast<int>(outline.index())));
  std::visit(Either{[&](const dish::Hexagon& hexagon) {
                      object.number(Quantity::across_flats, hexagon.across_flats_m);
                    },
                    [&](const dish::Rectangle& rectangle) {
                      object.number(Quantity::outline_width, rectangle.width_m);
                      object.number(Quantity::outline_height, rectangle.height_m);
                    },
                    [&](const dish::Disc& disc) {
                      object.number(Quantity::outline_diameter, disc.diameter_m);
                    },
                    [&](const dish::AnnularSector& sector) {
                      object.number(Quantity::inner_radius, sector.inner_radius_m);
                      object.number(Quantity::outer_radius, sector.outer_radius_m);
                      object.number(Quantity::opening, sector.opening_rad);
                    },
                    [&](const dish::Polygon& polygon) {
                      JsonValue corners = empty_list();
                      for (const base::Vec2& corner : polygon.corners_m) {
                        corners.children.push_back(list_of_numbers(Quantity::corner, &corner.x, 2));
                      }
                      object.member(dish::ranges::of(Quantity::corner).key, std::move(corners));
                    }},
             outline);
  return std::move(object).finish(unknown, place);
}

JsonValue write_surface(const dish::Surface& surface, const UnknownByPlace& unknown,
                        const std::string& place) {
  ObjectWriter object;
  object.text("form", word_of(k_surface_forms, static_cast<int>(surface.index())));
  std::visit(Either{[](const dish::Flat&) {},
                    [&](const dish::Spherical& sphere) {
                      object.number(Quantity::surface_radius, sphere.radius_m);
                    },
                    [&](const dish::Paraboloid& paraboloid) {
                      object.number(Quantity::surface_focal_length, paraboloid.focal_length_m);
                    },
                    [&](const dish::OffAxisParaboloid& piece) {
                      object.number(Quantity::parent_focal_length, piece.focal_length_m);
                      if (piece.off_axis_m) object.number(Quantity::off_axis, *piece.off_axis_m);
                      if (piece.meridian_rad) {
                        object.number(Quantity::meridian, *piece.meridian_rad);
                      }
                    }},
             surface);
  return std::move(object).finish(unknown, place);
}

JsonValue write_adjuster(const dish::Adjuster& adjuster, const UnknownByPlace& unknown,
                         const std::string& place) {
  ObjectWriter object;
  object.text("label", adjuster.label);
  object.number(Quantity::screw_x, adjuster.x_m);
  object.number(Quantity::screw_y, adjuster.y_m);
  object.number(Quantity::screw_pitch, adjuster.pitch_m);
  object.text("hand", word_of(k_hands, adjuster.hand));
  object.text("turned_from", word_of(k_sides, adjuster.turned_from));
  object.text("carry", word_of(k_carries, adjuster.carry));
  object.number(Quantity::travel_min, adjuster.travel_min_m);
  object.number(Quantity::travel_max, adjuster.travel_max_m);
  return std::move(object).finish(unknown, place);
}

JsonValue write_bracket(const dish::Bracket& bracket, const UnknownByPlace& unknown,
                        const std::string& place) {
  ObjectWriter object;
  object.vec3("origin_mm", Quantity::centre, bracket.origin_m);
  object.direction("x", bracket.x);
  object.direction("y", bracket.y);
  return std::move(object).finish(unknown, place);
}

}  // namespace

JsonValue write_facet_type(const dish::FacetType& type, const UnknownByPlace& unknown) {
  const std::string place = inside("facet_types", path_step(type.name.text));
  ObjectWriter object;
  object.member("outline", write_outline(type.outline, unknown, inside(place, "outline")));
  object.member("surface", write_surface(type.surface, unknown, inside(place, "surface")));
  add_finish(object, type.reflectance, type.coating, type.cleanliness, unknown, place);
  object.number(Quantity::slope_error, type.slope_error_rad);
  object.number(Quantity::specularity_error, type.specularity_error_rad);
  add_form_error(object, type.form_error, unknown, place);
  return std::move(object).finish(unknown, place);
}

JsonValue write_mount(const dish::Mount& mount, const UnknownByPlace& unknown) {
  const std::string place = inside("mounts", path_step(mount.name.text));
  ObjectWriter object;
  object.text("bracket_lies_along", word_of(k_lies, mount.lie));
  object.number(Quantity::face_offset, mount.face_offset_m);
  object.number(Quantity::standoff, mount.standoff_m);
  object.number(Quantity::caliper_offset, mount.caliper_offset_m);
  object.number(Quantity::clicks_per_turn, mount.clicks_per_turn);
  object.number(Quantity::backlash, mount.backlash_turns);
  if (!mount.spring.text.empty()) object.text("spring", mount.spring.text);
  JsonValue adjusters = empty_list();
  const std::string list = inside(place, "adjusters");
  for (std::size_t i = 0; i < mount.adjusters.size(); ++i) {
    adjusters.children.push_back(write_adjuster(mount.adjusters[i], unknown, at_index(list, i)));
  }
  object.member("adjusters", std::move(adjusters));
  return std::move(object).finish(unknown, place);
}

JsonValue write_spring(const dish::Spring& spring, const UnknownByPlace& unknown) {
  ObjectWriter object;
  object.number(Quantity::free_length, spring.free_length_m);
  object.number(Quantity::solid_length, spring.solid_length_m);
  object.number(Quantity::installed_length, spring.installed_length_m);
  object.number(Quantity::spring_rate, spring.rate_N_m);
  object.number(Quantity::least_force, spring.least_force_N);
  object.flag("pushes_to_sun", spring.pushes_to_sun);
  return std::move(object).finish(unknown, inside("springs", path_step(spring.name.text)));
}

JsonValue write_facet(const dish::Facet& facet, const UnknownByPlace& unknown) {
  const std::string place = inside("facets", path_step(facet.id.text));
  ObjectWriter object;
  object.text("id", facet.id.text);
  object.text("type", facet.type.text);
  object.text("mount", facet.mount.text);
  object.vec3("centre_mm", Quantity::centre, facet.centre_m);
  if (facet.clocking_rad != 0.0) object.number(Quantity::clocking, facet.clocking_rad);
  if (facet.aim_m != base::Vec2{0.0, 0.0}) object.vec2(Quantity::aim, facet.aim_m);
  if (facet.normal) object.direction("normal", *facet.normal);
  if (facet.bracket) {
    object.member("bracket", write_bracket(*facet.bracket, unknown, inside(place, "bracket")));
  }
  add_sag_map(object, facet.sag_map, unknown, place);
  if (facet.displacement_m != std::array<double, 3>{0.0, 0.0, 0.0}) {
    object.numbers("displacement_mm", Quantity::displacement, facet.displacement_m.data(), 3);
  }
  return std::move(object).finish(unknown, place);
}

}  // namespace files
