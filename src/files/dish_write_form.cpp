// Finish and form errors as JSON members.
#include "files/dish_write_parts.h"
#include "files/json_cursor.h"
#include "files/words.h"

namespace files {
namespace {

using dish::ranges::Quantity;

void add_term(ObjectWriter& object, Quantity quantity, double si) {
  if (si != 0.0) object.number(quantity, si);
}

JsonValue write_roll_off(const dish::EdgeRollOff& roll_off, const UnknownByPlace& unknown,
                         const std::string& place) {
  ObjectWriter object;
  object.number(Quantity::roll_off_width, roll_off.width_m);
  object.number(Quantity::roll_off_slope, roll_off.slope_rad);
  return std::move(object).finish(unknown, place);
}

}  // namespace

void add_finish(ObjectWriter& object, double reflectance,
                const std::optional<dish::Coating>& coating, double cleanliness,
                const UnknownByPlace& unknown, const std::string& place) {
  if (coating) {
    ObjectWriter own;
    own.text("metal", word_of(k_metals, coating->metal));
    if (coating->cover != dish::Cover::none) {
      own.text("cover", word_of(k_covers, coating->cover));
      own.number(Quantity::cover_thickness, coating->thickness_m);
    }
    object.member("coating", std::move(own).finish(unknown, inside(place, "coating")));
  } else {
    object.number(Quantity::reflectance, reflectance);
  }
  if (cleanliness != 1.0) object.number(Quantity::cleanliness, cleanliness);
}

void add_sag_map(ObjectWriter& object, const dish::SharedSagMap& map, const UnknownByPlace& unknown,
                 const std::string& place) {
  if (map == nullptr) return;
  ObjectWriter own;
  own.vec2(Quantity::map_first, map->first_m);
  own.vec2(Quantity::map_step, map->step_m);
  JsonValue rows = empty_list();
  for (int row = 0; row < map->rows; ++row) {
    const double* first = map->sag_m.data() + static_cast<std::ptrdiff_t>(row) * map->columns;
    rows.children.push_back(
        list_of_numbers(Quantity::map_sag, first, static_cast<std::size_t>(map->columns)));
  }
  own.member(dish::ranges::of(Quantity::map_sag).key, std::move(rows));
  object.member("sag_map", std::move(own).finish(unknown, inside(place, "sag_map")));
}

void add_form_error(ObjectWriter& object, const dish::FormError& error,
                    const UnknownByPlace& unknown, const std::string& place) {
  if (dish::is_perfect(error)) return;
  const std::string own = inside(place, "form_error");
  ObjectWriter terms;
  add_term(terms, Quantity::defocus, error.defocus_m);
  add_term(terms, Quantity::astigmatism_0, error.astigmatism_0_m);
  add_term(terms, Quantity::astigmatism_45, error.astigmatism_45_m);
  add_term(terms, Quantity::trefoil_0, error.trefoil_0_m);
  add_term(terms, Quantity::trefoil_30, error.trefoil_30_m);
  if (error.roll_off) {
    terms.member("edge_roll_off",
                 write_roll_off(*error.roll_off, unknown, inside(own, "edge_roll_off")));
  }
  add_sag_map(terms, error.sag_map, unknown, own);
  object.member("form_error", std::move(terms).finish(unknown, own));
}

}  // namespace files
