// Facet types: outline, surface, and how well they reflect.
#include <fmt/format.h>

#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

constexpr std::size_t k_most_corners = 200;

dish::Outline read_annular_sector(ObjectReader& object) {
  dish::AnnularSector sector;
  object.number(Quantity::inner_radius, sector.inner_radius_m);
  object.number(Quantity::outer_radius, sector.outer_radius_m);
  object.number(Quantity::opening, sector.opening_rad);
  return sector;
}

dish::Outline read_polygon(ObjectReader& object) {
  dish::Polygon polygon;
  const char* key = dish::ranges::of(Quantity::corner).key;
  object.require(key, "a list of corners [u, v]");
  const JsonValue* corners = object.find_array(key);
  if (corners == nullptr) return polygon;
  if (corners->children.size() < 3 || corners->children.size() > k_most_corners) {
    object.problem(*corners, key, describe(*corners),
                   fmt::format("3 to {} corners", k_most_corners));
    return polygon;
  }
  for (std::size_t i = 0; i < corners->children.size(); ++i) {
    base::Vec2 corner{0.0, 0.0};
    if (!object.list_item(corners->children[i], at_index(key, i), Quantity::corner, &corner.x, 2))
      break;
    polygon.corners_m.push_back(corner);
  }
  return polygon;
}

dish::FacetType read_facet_type(ReadLog& log, const std::string& name, const JsonValue& value,
                                const std::string& place, double f_m) {
  dish::FacetType type{.name = {name}, .surface = dish::Spherical{.radius_m = 2.0 * f_m}};
  ObjectReader object(log, value, place, "facet_type");
  if (const JsonValue* outline = object.find("outline")) {
    type.outline = read_outline(log, *outline, inside(place, "outline"));
  }
  if (const JsonValue* surface = object.find("surface")) {
    type.surface = read_surface(log, *surface, inside(place, "surface"), f_m);
  }
  read_finish(object, type.reflectance, type.coating, type.cleanliness);
  object.number(Quantity::slope_error, type.slope_error_rad);
  object.number(Quantity::specularity_error, type.specularity_error_rad);
  if (const JsonValue* error = object.find("form_error")) {
    type.form_error = read_form_error(log, *error, inside(place, "form_error"));
  }
  object.finish();
  return type;
}

}  // namespace

dish::Outline read_outline(ReadLog& log, const JsonValue& value, const std::string& place) {
  ObjectReader object(log, value, place, "outline");
  object.require("shape", list_of_words(k_outline_shapes));
  int shape = 0;
  object.choice("shape", k_outline_shapes, shape);
  dish::Outline outline = dish::Hexagon{};
  if (shape == 0) object.number(Quantity::across_flats, std::get<0>(outline).across_flats_m);
  if (shape == 1) {
    dish::Rectangle rectangle;
    object.number(Quantity::outline_width, rectangle.width_m);
    object.number(Quantity::outline_height, rectangle.height_m);
    outline = rectangle;
  }
  if (shape == 2) {
    dish::Disc disc;
    object.number(Quantity::outline_diameter, disc.diameter_m);
    outline = disc;
  }
  if (shape == 3) outline = read_annular_sector(object);
  if (shape == 4) outline = read_polygon(object);
  object.finish();
  return outline;
}

dish::Surface read_surface(ReadLog& log, const JsonValue& value, const std::string& place,
                           double f_m) {
  ObjectReader object(log, value, place, "surface");
  object.require("form", list_of_words(k_surface_forms));
  int form = 0;
  object.choice("form", k_surface_forms, form);
  dish::Surface surface = dish::Flat{};
  if (form == 1) {
    dish::Spherical sphere{.radius_m = 2.0 * f_m};
    object.number(Quantity::surface_radius, sphere.radius_m);
    surface = sphere;
  }
  if (form == 2) {
    dish::Paraboloid paraboloid{.focal_length_m = f_m};
    object.number(Quantity::surface_focal_length, paraboloid.focal_length_m);
    surface = paraboloid;
  }
  if (form == 3) {
    dish::OffAxisParaboloid piece{.focal_length_m = f_m};
    object.number(Quantity::parent_focal_length, piece.focal_length_m);
    object.optional_number(Quantity::off_axis, piece.off_axis_m);
    object.optional_number(Quantity::meridian, piece.meridian_rad);
    surface = piece;
  }
  object.finish();
  return surface;
}

void read_facet_types(ObjectReader& root, dish::Dish& dish) {
  read_named(root, "facet_types",
             [&](const std::string& name, const JsonValue& value, const std::string& place) {
               dish.facet_types.push_back(
                   read_facet_type(root.log(), name, value, place, dish.focal_length_m));
             });
}

}  // namespace files
