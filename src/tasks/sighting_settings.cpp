// Sources by their words, and boards.
#include "tasks/sighting_settings.h"

#include <fmt/format.h>

#include <array>

#include "base/units.h"
#include "tasks/align_task.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;
using dish::ranges::Range;

struct SourceWord {
  const char* word;
  const char* place_key;  ///< empty: it stands nowhere
};
constexpr std::array<SourceWord, 5> k_source_words{{{"sun", ""},
                                                    {"laser", ""},
                                                    {"lamp", "lamp_mm"},
                                                    {"laser-at", "laser_mm"},
                                                    {"camera", "camera_mm"}}};

}  // namespace

std::vector<std::string> source_words() {
  std::vector<std::string> words;
  for (const SourceWord& entry : k_source_words) words.emplace_back(entry.word);
  return words;
}

std::string place_key(const std::string& source_word) {
  for (const SourceWord& entry : k_source_words) {
    if (source_word == entry.word) return entry.place_key;
  }
  return "";
}

dish::Source source_of(const std::string& word, const base::Vec3& position_m) {
  dish::Source source = dish::SunSource{};
  if (word == "laser") source = dish::LaserSource{};
  if (word == "lamp") source = dish::LampSource{};
  if (word == "laser-at") source = dish::AimedLaserSource{};
  if (word == "camera") source = dish::CameraSource{};
  return dish::moved_to(source, position_m);
}

std::optional<dish::Source> read_source(Settings& settings) {
  auto kind = settings.word("source", source_words());
  const auto x_rad = number_in(settings, "sun_x_mrad", Quantity::tracking_error);
  const auto y_rad = number_in(settings, "sun_y_mrad", Quantity::tracking_error);
  std::optional<base::Vec3> place_mm;
  std::string placed;
  for (const SourceWord& entry : k_source_words) {
    if (*entry.place_key == '\0') continue;
    const auto given =
        settings.triple(entry.place_key, -k_farthest_source_mm, k_farthest_source_mm);
    if (given && !placed.empty()) {
      settings.add({"request." + place_key(entry.word), "given with " + place_key(placed),
                    "one source in one place"});
    }
    if (!given) continue;
    place_mm = given;
    placed = entry.word;
  }
  const std::string wanted = kind.value_or(x_rad || y_rad ? "sun" : "");
  if (!place_key(wanted).empty() ? wanted != placed : !placed.empty()) {
    const std::string& of = place_key(wanted).empty() ? placed : wanted;
    settings.add(
        {"request.source", kind.value_or("not said"),
         fmt::format("{} together with {} [x, y, z], where it stands", of, place_key(of))});
  }
  if ((x_rad || y_rad) && wanted != "sun") {
    settings.add({"request.sun_x_mrad, sun_y_mrad", "given without the sun", "source sun"});
  }
  if (wanted.empty()) return std::nullopt;
  if (wanted == "sun") {
    return dish::SunSource{.tracking_error_rad = {x_rad.value_or(0.0), y_rad.value_or(0.0)}};
  }
  return source_of(wanted, place_mm.value_or(base::Vec3{0.0}) * 1e-3);
}

std::optional<dish::Board> read_board(Settings& settings) {
  const Json* given = settings.raw("board");
  if (given == nullptr) return std::nullopt;
  Settings own(*given, "request.board");
  dish::Board board;
  const double far_mm = base::mm_from_m(dish::ranges::of(Quantity::board_centre).most);
  if (const auto centre = own.triple("centre_mm", -far_mm, far_mm)) board.centre_m = *centre * 1e-3;
  if (const auto normal = own.triple("lit_normal", -1e3, 1e3)) board.lit_normal = *normal;
  if (const auto up = own.triple("up", -1e3, 1e3)) board.up = *up;
  settings.add(own.finish());
  settings.add(straighten(board, "request.board"));
  return board;
}

std::optional<double> number_in(Settings& settings, const std::string& key, Quantity quantity) {
  const Range& range = dish::ranges::of(quantity);
  const auto value = settings.number(key, dish::ranges::in_unit(range.unit, range.least),
                                     dish::ranges::in_unit(range.unit, range.most));
  if (!value) return std::nullopt;
  return dish::ranges::si_from(range.unit, *value);
}

Json source_json(const dish::Source& source) {
  Json json{{"kind", k_source_words[source.index()].word}};
  if (const auto* sun = std::get_if<dish::SunSource>(&source)) {
    json["tracking_error_mrad"] = numbers(sun->tracking_error_rad, 1000.0);
  }
  if (const base::Vec3* point = dish::point_of(source)) {
    json["position_mm"] = numbers(*point, 1000.0);
  }
  return json;
}

}  // namespace tasks
