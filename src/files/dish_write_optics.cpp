// Secondary, receiver, blockers and rounds as JSON values.
#include "files/dish_write_parts.h"
#include "files/json_cursor.h"
#include "files/words.h"

namespace files {
namespace {

using dish::ranges::Quantity;

void add_secondary_form(ObjectWriter& object, const dish::SecondaryForm& form) {
  object.text("form", word_of(k_secondary_forms, static_cast<int>(form.index())));
  std::visit(Either{[](const dish::FlatSecondary&) {},
                    [&](const dish::HyperboloidSecondary& hyperboloid) {
                      object.number(Quantity::near_focus_z, hyperboloid.near_focus_z_m);
                      object.number(Quantity::far_focus_z, hyperboloid.far_focus_z_m);
                    },
                    [&](const dish::EllipsoidSecondary& ellipsoid) {
                      object.number(Quantity::near_focus_z, ellipsoid.near_focus_z_m);
                      object.number(Quantity::far_focus_z, ellipsoid.far_focus_z_m);
                    },
                    [&](const dish::SphereSecondary& sphere) {
                      object.number(Quantity::secondary_radius, sphere.radius_m);
                    },
                    [&](const dish::ParaboloidSecondary& paraboloid) {
                      object.number(Quantity::secondary_focal_length, paraboloid.focal_length_m);
                    }},
             form);
}

void add_receiver_shape(ObjectWriter& object, const dish::ReceiverShape& shape) {
  object.text("shape", word_of(k_receiver_shapes, static_cast<int>(shape.index())));
  std::visit(Either{[&](const dish::DiscReceiver& disc) {
                      object.number(Quantity::receiver_diameter, disc.diameter_m);
                    },
                    [&](const dish::RectangleReceiver& rectangle) {
                      object.number(Quantity::receiver_width, rectangle.width_m);
                      object.number(Quantity::receiver_height, rectangle.height_m);
                    }},
             shape);
}

JsonValue write_source(const dish::Source& source, const UnknownByPlace& unknown,
                       const std::string& place) {
  ObjectWriter object;
  object.text("light", word_of(k_source_kinds, static_cast<int>(source.index())));
  std::visit(Either{[&](const dish::SunSource& sun) {
                      object.vec2(Quantity::tracking_error, sun.tracking_error_rad);
                    },
                    [](const dish::LaserSource&) {},
                    [&](const dish::LampSource& lamp) {
                      object.vec3("position_m", Quantity::lamp_position, lamp.position_m);
                    }},
             source);
  return std::move(object).finish(unknown, place);
}

JsonValue write_board(const dish::Board& board, const UnknownByPlace& unknown,
                      const std::string& place) {
  ObjectWriter object;
  object.vec3("centre_mm", Quantity::board_centre, board.centre_m);
  object.direction("lit_normal", board.lit_normal);
  object.direction("up", board.up);
  return std::move(object).finish(unknown, place);
}

JsonValue write_spot(const dish::Spot& spot, const UnknownByPlace& unknown,
                     const std::string& place) {
  ObjectWriter object;
  object.text("facet", spot.facet.text);
  object.vec2(Quantity::spot_seen, spot.seen_m);
  if (spot.sigma_m) object.number(Quantity::spot_sigma, *spot.sigma_m);
  return std::move(object).finish(unknown, place);
}

JsonValue write_turned(const dish::Turned& turned, const UnknownByPlace& unknown,
                       const std::string& place) {
  ObjectWriter object;
  object.text("facet", turned.facet.text);
  object.text("screw", turned.screw);
  object.number(Quantity::turns, turned.turns);
  return std::move(object).finish(unknown, place);
}

/// Nothing when there are none.
void add_turns(ObjectWriter& object, const char* key, const std::vector<dish::Turned>& log,
               const UnknownByPlace& unknown, const std::string& place) {
  if (log.empty()) return;
  JsonValue list = empty_list();
  for (std::size_t i = 0; i < log.size(); ++i) {
    list.children.push_back(write_turned(log[i], unknown, at_index(inside(place, key), i)));
  }
  object.member(key, std::move(list));
}

void add_left_out(ObjectWriter& object, const dish::LeftOut& left_out) {
  JsonValue list = empty_list();
  for (const auto& word : k_common_modes) {
    if (!left_out[static_cast<std::size_t>(word.value)]) continue;
    list.children.push_back({.kind = JsonValue::Kind::string, .text = word.text});
  }
  if (!list.children.empty()) object.member("left_out", std::move(list));
}

}  // namespace

void add_sun_shape(ObjectWriter& sun, const dish::SunShape& shape) {
  // Files without a shape have always meant an even disc.
  if (std::holds_alternative<dish::PillboxSun>(shape)) return;
  sun.text("shape", word_of(k_sun_shapes, static_cast<int>(shape.index())));
  std::visit(Either{[](const dish::PillboxSun&) {},
                    [&](const dish::LimbDarkenedSun& limb) {
                      sun.number(Quantity::limb_darkening, limb.coefficient);
                    },
                    [&](const dish::GaussianSun& gaussian) {
                      sun.number(Quantity::sun_sigma, gaussian.sigma_rad);
                    },
                    [&](const dish::CircumsolarSun& circumsolar) {
                      sun.number(Quantity::circumsolar_ratio, circumsolar.ratio);
                    }},
             shape);
}

JsonValue write_secondary(const dish::Secondary& secondary, const UnknownByPlace& unknown) {
  ObjectWriter object;
  add_secondary_form(object, secondary.form);
  object.vec3("vertex_mm", Quantity::secondary_vertex, secondary.vertex_m);
  object.vec2(Quantity::secondary_tilt, secondary.tilt_rad);
  object.number(Quantity::secondary_diameter, secondary.diameter_m);
  object.number(Quantity::hole_diameter, secondary.hole_diameter_m);
  add_finish(object, secondary.reflectance, secondary.coating, secondary.cleanliness, unknown,
             "secondary");
  object.number(Quantity::slope_error, secondary.slope_error_rad);
  object.number(Quantity::specularity_error, secondary.specularity_error_rad);
  return std::move(object).finish(unknown, "secondary");
}

JsonValue write_receiver(const dish::Receiver& receiver, const UnknownByPlace& unknown) {
  ObjectWriter object;
  add_receiver_shape(object, receiver.shape);
  object.vec3("centre_mm", Quantity::receiver_centre, receiver.centre_m);
  object.direction("lit_normal", receiver.lit_normal);
  object.direction("up", receiver.up);
  object.number(Quantity::absorptance, receiver.absorptance);
  object.flag("shades", receiver.shades);
  return std::move(object).finish(unknown, "receiver");
}

JsonValue write_blocker(const dish::Blocker& blocker, const UnknownByPlace& unknown,
                        const std::string& place) {
  ObjectWriter object;
  object.text("name", blocker.name);
  object.text("shape", word_of(k_blocker_shapes, static_cast<int>(blocker.shape.index())));
  std::visit(Either{[&](const dish::DiscBlocker& disc) {
                      object.vec3("centre_mm", Quantity::blocker_place, disc.centre_m);
                      object.direction("normal", disc.normal);
                      object.number(Quantity::blocker_diameter, disc.diameter_m);
                    },
                    [&](const dish::BoxBlocker& box) {
                      object.vec3("centre_mm", Quantity::blocker_place, box.centre_m);
                      object.direction("x", box.x);
                      object.direction("y", box.y);
                      object.vec3("size_mm", Quantity::blocker_size, box.size_m);
                    },
                    [&](const dish::TubeBlocker& tube) {
                      object.vec3("from_mm", Quantity::blocker_place, tube.from_m);
                      object.vec3("to_mm", Quantity::blocker_place, tube.to_m);
                      object.number(Quantity::blocker_diameter, tube.diameter_m);
                    }},
             blocker.shape);
  return std::move(object).finish(unknown, place);
}

JsonValue write_round(const dish::Round& round, const UnknownByPlace& unknown,
                      const std::string& place) {
  ObjectWriter object;
  object.text("name", round.name);
  object.member("source", write_source(round.source, unknown, inside(place, "source")));
  if (round.board) {
    object.member("board", write_board(*round.board, unknown, inside(place, "board")));
  }
  JsonValue spots = empty_list();
  for (std::size_t i = 0; i < round.spots.size(); ++i) {
    const std::string at = at_index(inside(place, "spots"), i);
    spots.children.push_back(write_spot(round.spots[i], unknown, at));
  }
  object.member("spots", std::move(spots));
  add_turns(object, "told", round.told, unknown, place);
  add_turns(object, "turned", round.turned, unknown, place);
  add_left_out(object, round.left_out);
  if (!round.note.empty()) object.text("note", round.note);
  return std::move(object).finish(unknown, place);
}

}  // namespace files
