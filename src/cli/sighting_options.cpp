// Reads the light and the board.
#include "cli/sighting_options.h"

#include <fmt/format.h>

#include "base/units.h"
#include "tasks/align_task.h"
#include "tasks/sighting_settings.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

base::Vec3 vec3_of(const std::vector<double>& values, double scale) {
  return {values[0] * scale, values[1] * scale, values[2] * scale};
}

/// "--lamp-mm"; empty for a source that stands nowhere.
std::string place_option(const std::string& word) {
  const std::string key = tasks::place_key(word);
  return key.empty() ? key : option_name(key);
}

}  // namespace

Limits limits_of(Quantity quantity) {
  const dish::ranges::Range& range = dish::ranges::of(quantity);
  return {dish::ranges::in_unit(range.unit, range.least),
          dish::ranges::in_unit(range.unit, range.most)};
}

std::vector<Option> sighting_options() {
  return {
      {"--source", "WORD",
       "The light: sun, laser (parallel to the axis, through each facet's centre), lamp, laser-at "
       "(a laser that stands at a point, aimed at each facet's centre) or camera (a look back: the "
       "board's point that is seen in each facet's centre); default sun, or what the round says."},
      {"--sun-x-mrad", "mrad",
       "Known pointing error: the sun stood this far toward +x of the axis, -200 to 200 mrad; "
       "default 0."},
      {"--sun-y-mrad", "mrad", "The same toward +y, -200 to 200 mrad; default 0."},
      {"--lamp-mm", "X,Y,Z", "Where the lamp stands in the dish frame, -1e8 to 1e8 mm each."},
      {"--laser-mm", "X,Y,Z", "Where the laser stands that is aimed at the facets."},
      {"--camera-mm", "X,Y,Z",
       "Where the camera's entrance pupil is. Never look back with the sun within 30 degrees of "
       "the axis."},
      {"--board-mm", "X,Y,Z",
       "Centre of the board the spots were seen on, in the dish frame, -200000 to 200000 mm each; "
       "default the receiver's plane."},
      {"--board-normal", "X,Y,Z", "The way the board's lit side faces; default 0,0,-1."},
      {"--board-up", "X,Y,Z", "The board's up; default 0,1,0."},
  };
}

std::optional<dish::Source> read_source(const Given& given, Collected& collected) {
  const auto kind = collected.take(word_of(given, "--source", tasks::source_words()));
  const Limits tilt = limits_of(Quantity::tracking_error);
  const auto x_mrad = collected.take(number_of(given, "--sun-x-mrad", tilt));
  const auto y_mrad = collected.take(number_of(given, "--sun-y-mrad", tilt));
  const Limits far{-tasks::k_farthest_source_mm, tasks::k_farthest_source_mm};
  std::optional<std::vector<double>> place;
  std::string wanted = kind.value_or("");
  for (const std::string& word : tasks::source_words()) {
    const std::string option = place_option(word);
    if (option.empty() || !given.has(option)) continue;
    const auto numbers = collected.take(numbers_of(given, option, 3, far));
    if (wanted.empty()) wanted = word;
    if (wanted == word) place = numbers;
    if (wanted != word) {
      collected.add({option, "given without a " + word, "--source " + word});
    }
  }
  if (wanted.empty() && (x_mrad || y_mrad)) wanted = "sun";
  if (const std::string option = place_option(wanted); !option.empty() && !given.has(option)) {
    collected.add({"--source", wanted, option + " X,Y,Z too, where it stands"});
  }
  if ((x_mrad || y_mrad) && wanted != "sun") {
    collected.add({"--sun-x-mrad, --sun-y-mrad", "given without the sun", "--source sun"});
  }
  if (wanted.empty()) return std::nullopt;
  if (wanted == "sun") {
    return dish::SunSource{.tracking_error_rad = {base::rad_from_mrad(x_mrad.value_or(0.0)),
                                                  base::rad_from_mrad(y_mrad.value_or(0.0))}};
  }
  return tasks::source_of(wanted, place ? vec3_of(*place, 1e-3) : base::Vec3{0.0});
}

std::optional<dish::Board> read_board(const Given& given, Collected& collected) {
  const Limits place = limits_of(Quantity::board_centre);
  const Limits direction = limits_of(Quantity::direction);
  const auto centre = collected.take(numbers_of(given, "--board-mm", 3, place));
  const auto normal = collected.take(numbers_of(given, "--board-normal", 3, direction));
  const auto up = collected.take(numbers_of(given, "--board-up", 3, direction));
  if (!centre) {
    if (normal || up) {
      collected.add({"--board-normal, --board-up", "given without the board's centre",
                     "--board-mm X,Y,Z too"});
    }
    return std::nullopt;
  }
  dish::Board board{.centre_m = vec3_of(*centre, 1e-3)};
  if (normal) board.lit_normal = vec3_of(*normal, 1.0);
  if (up) board.up = vec3_of(*up, 1.0);
  collected.add(tasks::straighten(board, "--board-normal, --board-up"));
  return board;
}

}  // namespace cli
