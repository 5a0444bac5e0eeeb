// The log of alignment rounds: light, board, spots seen and screws turned.
#include <fmt/format.h>

#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

dish::Source read_source(ReadLog& log, const JsonValue& value, const std::string& place) {
  ObjectReader object(log, value, place, "source");
  object.require("light", list_of_words(k_source_kinds));
  int kind = 0;
  object.choice("light", k_source_kinds, kind);
  dish::Source source = dish::LaserSource{};
  if (kind == 0) {
    dish::SunSource sun;
    object.vec2(Quantity::tracking_error, sun.tracking_error_rad);
    source = sun;
  }
  if (kind == 2) {
    dish::LampSource lamp;
    object.require("position_m", "where the lamp stands in the dish frame, [x, y, z]");
    object.vec3(Quantity::lamp_position, lamp.position_m);
    source = lamp;
  }
  object.finish();
  return source;
}

dish::Board read_board(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::Board board;
  ObjectReader object(log, value, place, "board");
  object.require("centre_mm", "the board's centre in the dish frame, [x, y, z]");
  object.vec3(Quantity::board_centre, board.centre_m);
  object.direction("lit_normal", board.lit_normal);
  object.vec3("up", Quantity::direction, board.up);
  object.finish();
  return board;
}

dish::Spot read_spot(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::Spot spot;
  ObjectReader object(log, value, place, "spot");
  object.require("facet", "the id of a facet");
  object.require("seen_mm", "where its spot was seen, [right, up]");
  object.name("facet", spot.facet.text);
  object.vec2(Quantity::spot_seen, spot.seen_m);
  object.optional_number(Quantity::spot_sigma, spot.sigma_m);
  object.finish();
  return spot;
}

/// One screw's turns; what was told and what was done are written alike.
dish::Turned read_turned(ReadLog& log, const JsonValue& value, const std::string& place) {
  dish::Turned turned;
  ObjectReader object(log, value, place, "turned");
  object.require("facet", "the id of a facet");
  object.require("screw", "the label of its adjuster");
  object.require("turns", dish::ranges::range_text(Quantity::turns));
  object.name("facet", turned.facet.text);
  object.name("screw", turned.screw);
  object.number(Quantity::turns, turned.turns);
  object.finish();
  return turned;
}

void read_left_out(ObjectReader& object, dish::LeftOut& left_out) {
  read_list(object, "left_out", [&](std::size_t, const JsonValue& item, const std::string& at) {
    for (const auto& word : k_common_modes) {
      if (item.kind != JsonValue::Kind::string || item.text != word.text) continue;
      left_out[static_cast<std::size_t>(word.value)] = true;
      return;
    }
    object.log().problem(item.line, at, describe(item), list_of_words(k_common_modes));
  });
}

dish::Round read_round(ReadLog& log, const JsonValue& value, const std::string& place,
                       std::size_t i) {
  dish::Round round{.name = fmt::format("round {}", i + 1)};
  ObjectReader object(log, value, place, "round");
  object.name("name", round.name);
  if (const JsonValue* source = object.find("source")) {
    round.source = read_source(log, *source, inside(place, "source"));
  }
  if (const JsonValue* board = object.find("board")) {
    round.board = read_board(log, *board, inside(place, "board"));
  }
  read_list(object, "spots", [&](std::size_t, const JsonValue& item, const std::string& at) {
    round.spots.push_back(read_spot(log, item, at));
  });
  read_list(object, "told", [&](std::size_t, const JsonValue& item, const std::string& at) {
    round.told.push_back(read_turned(log, item, at));
  });
  read_list(object, "turned", [&](std::size_t, const JsonValue& item, const std::string& at) {
    round.turned.push_back(read_turned(log, item, at));
  });
  read_left_out(object, round.left_out);
  object.text("note", round.note);
  object.finish();
  return round;
}

}  // namespace

void read_rounds(ObjectReader& root, dish::Dish& dish) {
  read_list(root, "rounds", [&](std::size_t i, const JsonValue& item, const std::string& place) {
    dish.rounds.push_back(read_round(root.log(), item, place, i));
  });
}

}  // namespace files
