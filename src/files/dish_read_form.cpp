// How a mirror reflects, and how its surface differs from the intended one.
#include <fmt/format.h>

#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

dish::Coating read_coating(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::Coating coating;
  ObjectReader object(log, value, place, "coating");
  object.require("metal", list_of_words(k_metals));
  object.choice("metal", k_metals, coating.metal);
  object.choice("cover", k_covers, coating.cover);
  if (coating.cover != dish::Cover::none) {
    object.number(Quantity::cover_thickness, coating.thickness_m);
  }
  object.finish();
  return coating;
}

dish::EdgeRollOff read_roll_off(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::EdgeRollOff roll_off;
  ObjectReader object(log, value, place, "edge_roll_off");
  object.number(Quantity::roll_off_width, roll_off.width_m);
  object.number(Quantity::roll_off_slope, roll_off.slope_rad);
  object.finish();
  return roll_off;
}

/// One row of heights, as many as the row before it.
bool read_row(ObjectReader& object, const JsonValue& row, const std::string& step,
              dish::SagMap& map) {
  const std::size_t most = dish::k_most_map_side;
  const std::size_t count = row.children.size();
  const bool is_list = row.kind == JsonValue::Kind::array;
  if (!is_list || count < 2 || count > most ||
      (map.rows > 0 && count != static_cast<std::size_t>(map.columns))) {
    object.log().problem(row.line, inside(object.place(), step),
                         is_list ? fmt::format("{} heights", count) : describe(row),
                         map.rows > 0 ? fmt::format("{} heights, as in the first row", map.columns)
                                      : fmt::format("a list of 2 to {} heights", most));
    return false;
  }
  map.columns = static_cast<int>(count);
  map.rows += 1;
  for (std::size_t i = 0; i < count; ++i) {
    double sag = 0.0;
    if (!object.list_number(row.children[i], at_index(step, i), Quantity::map_sag, sag)) {
      return false;
    }
    map.sag_m.push_back(sag);
  }
  return true;
}

}  // namespace

dish::SharedSagMap read_sag_map(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::SagMap map;
  ObjectReader object(log, value, place, "sag_map");
  const char* key = dish::ranges::of(Quantity::map_sag).key;
  object.require("first_mm", "the place of the first height, [u, v]");
  object.require("step_mm", "the distances of columns and rows, [along u, along v]");
  object.require(key, "rows of heights");
  object.vec2(Quantity::map_first, map.first_m);
  object.vec2(Quantity::map_step, map.step_m);
  const JsonValue* rows = object.find_array(key);
  object.finish();
  if (rows == nullptr) return nullptr;
  const std::size_t most = dish::k_most_map_side;
  if (rows->children.size() < 2 || rows->children.size() > most) {
    object.problem(*rows, key, fmt::format("{} rows", rows->children.size()),
                   fmt::format("2 to {} rows", most));
    return nullptr;
  }
  for (std::size_t i = 0; i < rows->children.size(); ++i) {
    if (!read_row(object, rows->children[i], at_index(key, i), map)) return nullptr;
  }
  return std::make_shared<const dish::SagMap>(std::move(map));
}

void read_finish(ObjectReader& object, double& reflectance, std::optional<dish::Coating>& coating,
                 double& cleanliness) {
  const bool has_number = object.number(Quantity::reflectance, reflectance);
  const JsonValue* value = object.find("coating");
  object.number(Quantity::cleanliness, cleanliness);
  if (value == nullptr) return;
  if (has_number) {
    object.problem(*value, "coating", "a coating and a reflectance", "only one of the two");
    return;
  }
  coating = read_coating(object.log(), *value, inside(object.place(), "coating"));
}

dish::FormError read_form_error(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::FormError error;
  ObjectReader object(log, value, place, "form_error");
  object.number(Quantity::defocus, error.defocus_m);
  object.number(Quantity::astigmatism_0, error.astigmatism_0_m);
  object.number(Quantity::astigmatism_45, error.astigmatism_45_m);
  object.number(Quantity::trefoil_0, error.trefoil_0_m);
  object.number(Quantity::trefoil_30, error.trefoil_30_m);
  if (const JsonValue* roll_off = object.find("edge_roll_off")) {
    error.roll_off = read_roll_off(log, *roll_off, inside(place, "edge_roll_off"));
  }
  if (const JsonValue* map = object.find("sag_map")) {
    error.sag_map = read_sag_map(log, *map, inside(place, "sag_map"));
  }
  object.finish();
  return error;
}

}  // namespace files
