// facetwright align: from where the spots were seen to turns of each screw.
#include <fmt/format.h>

#include <optional>

#include "base/units.h"
#include "cli/commands.h"
#include "dish/ranges.h"
#include "files/spots.h"
#include "tasks/align_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

constexpr double k_farthest_mm = 1e8;

/// Allowed numbers of a quantity, in its file unit.
Limits limits_of(Quantity quantity) {
  const dish::ranges::Range& range = dish::ranges::of(quantity);
  return {dish::ranges::in_unit(range.unit, range.least),
          dish::ranges::in_unit(range.unit, range.most)};
}

base::Vec3 vec3_of(const std::vector<double>& values, double scale) {
  return {values[0] * scale, values[1] * scale, values[2] * scale};
}

/// The light, when the options say; else that of the round in the dish, or the sun.
std::optional<dish::Source> read_source(const Given& given, Collected& collected) {
  const auto kind = collected.take(word_of(given, "--source", {"sun", "laser", "lamp"}));
  const Limits tilt = limits_of(Quantity::tracking_error);
  const auto x_mrad = collected.take(number_of(given, "--sun-x-mrad", tilt));
  const auto y_mrad = collected.take(number_of(given, "--sun-y-mrad", tilt));
  const auto lamp =
      collected.take(numbers_of(given, "--lamp-mm", 3, {-k_farthest_mm, k_farthest_mm}));
  const bool is_sun = kind ? *kind == "sun" : !lamp;
  if (lamp && kind && *kind != "lamp") {
    collected.add({"--lamp-mm", "given without a lamp", "--source lamp"});
  }
  if (!lamp && kind && *kind == "lamp" && !given.has("--lamp-mm")) {
    collected.add({"--source", "lamp", "--lamp-mm X,Y,Z too, where it stands"});
  }
  if ((x_mrad || y_mrad) && !is_sun) {
    collected.add({"--sun-x-mrad, --sun-y-mrad", "given without the sun", "--source sun"});
  }
  if (lamp) return dish::LampSource{.position_m = vec3_of(*lamp, 1e-3)};
  if (kind && *kind == "laser") return dish::LaserSource{};
  if (!kind && !x_mrad && !y_mrad) return std::nullopt;
  return dish::SunSource{.tracking_error_rad = {base::rad_from_mrad(x_mrad.value_or(0.0)),
                                                base::rad_from_mrad(y_mrad.value_or(0.0))}};
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

void read_left_out(const Given& given, Collected& collected, align::PlanRequest& plan) {
  const auto text = given.text("--leave-out");
  if (!text || *text == "none") return;
  std::size_t at = 0;
  while (at <= text->size()) {
    const std::size_t end = std::min(text->find(',', at), text->size());
    if (!tasks::leave_out(text->substr(at, end - at), plan)) {
      collected.add({"--leave-out", text->substr(at, end - at),
                     fmt::format("none, or some of {} with commas between",
                                 fmt::join(tasks::leave_out_words(), ", "))});
    }
    at = end + 1;
  }
}

align::PlanRequest read_plan(const Given& given, Collected& collected) {
  align::PlanRequest plan;
  if (const auto word = given.text("--keep")) {
    const tasks::Keep keep = tasks::keep_of(*word);
    plan.piston = keep.piston;
    plan.held_screw = keep.held_screw;
  }
  read_left_out(given, collected, plan);
  if (const auto clicks = collected.take(whole_of(given, "--clicks-per-turn", 1, 360))) {
    plan.clicks_per_turn = static_cast<int>(*clicks);
  }
  if (const auto sigma_mm =
          collected.take(number_of(given, "--spot-sigma-mm", limits_of(Quantity::spot_sigma)))) {
    plan.spot_sigma_m = base::m_from_mm(*sigma_mm);
  }
  plan.turn_sigma_turns = collected.take(number_of(given, "--turn-sigma-turns", {0.0, 1.0}))
                              .value_or(plan.turn_sigma_turns);
  const auto pivot = collected.take(word_of(given, "--pivot", {"mount", "fixed"}));
  if (pivot && *pivot == "fixed") plan.pivot = align::Pivot::fixed;
  plan.secondary_in_place = !given.has("--without-secondary");
  return plan;
}

/// Everything the options say that does not need the dish.
struct Wishes {
  std::optional<dish::Source> source;
  std::optional<dish::Board> board;
  std::optional<std::string> spot;
  tasks::AlignRequest request;
  Form form = Form::report;
};

Wishes read_wishes(const Given& given, Collected& collected) {
  Wishes wishes;
  wishes.source = read_source(given, collected);
  wishes.board = read_board(given, collected);
  wishes.spot = collected.take(word_of(given, "--spot", {"centroid", "centre"}));
  wishes.request.plan = read_plan(given, collected);
  wishes.request.skip_unusable = given.has("--skip-unusable");
  wishes.form = collected.take(form_of(given), Form::report);
  if (given.has("--spots") == given.has("--round")) {
    collected.add({"--spots, --round", given.has("--spots") ? "both given" : "neither given",
                   "one of them: a spots file, or a round of the dish"});
  }
  if (given.text("--spots") == "-" && given.operands[0] == "-") {
    collected.add({"--spots", "-", "a file, because standard input is the dish"});
  }
  return wishes;
}

base::Result<dish::Round> read_round(const Given& given, const Console& console,
                                     const dish::Dish& dish) {
  if (const auto name = given.text("--round")) return tasks::round_of_dish(dish, *name);
  const std::string path = *given.text("--spots");
  const auto bytes = read_input(console, path, files::k_spots_file_cap_bytes);
  if (!bytes) return bytes.problems();
  auto spots = tasks::spots_of_file(dish, bytes.value(), path == "-" ? "standard input" : path);
  if (!spots) return spots.problems();
  for (const std::string& note : spots.value().notes) remark(console, path + ": " + note);
  dish::Round round;
  round.name = path;
  round.spots = std::move(spots).value().spots;
  return round;
}

/// Puts the file before problems of single facets, whose spots came from it.
base::Problems placed(const Given& given, base::Problems problems) {
  const std::string file = given.text("--spots").value_or(given.operands[0]);
  for (base::Problem& problem : problems) {
    if (problem.place.rfind("facet", 0) == 0) problem.place.insert(0, file + ", ");
  }
  return as_options(std::move(problems), align_options());
}

std::string text_of(const tasks::AlignReply& reply, Form form) {
  if (form == Form::json) return tasks::json_text(reply);
  return form == Form::csv ? tasks::csv_text(reply) : tasks::report_text(reply);
}

}  // namespace

std::vector<Option> align_options() {
  return {
      {"--spots", "SPOTS.csv", "Where the spots were seen: facet,right_mm,up_mm[,sigma_mm]."},
      {"--round", "NAME", "Instead: a round that the dish file holds, by name, or last."},
      {"--source", "WORD",
       "The light: sun, laser (parallel to the axis, through each facet's "
       "centre) or lamp; default sun, or what the round says."},
      {"--sun-x-mrad", "mrad",
       "Known pointing error: the sun stood this far toward +x of the "
       "axis, -200 to 200 mrad; default 0."},
      {"--sun-y-mrad", "mrad", "The same toward +y, -200 to 200 mrad; default 0."},
      {"--lamp-mm", "X,Y,Z", "Where the lamp stands in the dish frame, -1e8 to 1e8 mm each."},
      {"--board-mm", "X,Y,Z",
       "Centre of the board the spots were seen on, in the dish frame, "
       "-200000 to 200000 mm each; default the receiver's plane."},
      {"--board-normal", "X,Y,Z", "The way the board's lit side faces; default 0,0,-1."},
      {"--board-up", "X,Y,Z", "The board's up; default 0,1,0."},
      {"--keep", "WORD",
       "What is done with the third freedom of three screws: height (of the "
       "facet's centre), a screw's label (that screw is not touched), "
       "least-turns, tighten-only, least-most (turns of one screw), "
       "least-squares or mid-range; default least-turns."},
      {"--spot", "WORD",
       "What was read: centroid (middle of the facet's whole light) or centre "
       "(of its centre's ray); default centroid for the sun, else centre."},
      {"--leave-out", "LIST",
       "Shared errors that are corrected elsewhere, not with the screws: "
       "boresight, focus, clocking, bend, with commas; default none."},
      {"--clicks-per-turn", "N",
       "Smallest steps a hand makes in one turn, 1 to 360; default the "
       "mount's."},
      {"--spot-sigma-mm", "mm",
       "Uncertainty per axis of spots that bring none, 0.001 to 5000 mm; "
       "default 2."},
      {"--turn-sigma-turns", "turns", "How well a hand turns, 0 to 1 turn; default 1/12."},
      {"--pivot", "WORD",
       "What a tilt turns about: mount (the screws) or fixed (the centre); "
       "default mount."},
      {"--without-secondary", "", "The secondary was taken off for this round."},
      {"--skip-unusable", "", "Leave spots out that cannot be used, instead of refusing."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_align(const Given& given, const Console& console) {
  Collected collected;
  Wishes wishes = read_wishes(given, collected);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto round = read_round(given, console, dish.value());
  if (!round) return report(console, as_options(round.problems(), align_options()));
  tasks::AlignRequest& request = wishes.request;
  request.round = round.value();
  if (wishes.source) request.round.source = *wishes.source;
  if (wishes.board) request.round.board = wishes.board;
  request.plan.spot_is_centroid = wishes.spot ? *wishes.spot == "centroid"
                                              : tasks::is_centroid_by_default(request.round.source);
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, placed(given, reply.problems()));
  return deliver(console, given, text_of(reply.value(), wishes.form));
}

}  // namespace cli
