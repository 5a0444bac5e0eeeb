// facetwright align: from what was seen or measured to turns of each screw.
#include <fmt/format.h>

#include <optional>

#include "base/units.h"
#include "cli/commands.h"
#include "cli/sighting_options.h"
#include "dish/ranges.h"
#include "files/facet_table.h"
#include "files/readings.h"
#include "tasks/align_task.h"
#include "tasks/sheet_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

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
  if (const auto sigma_deg =
          collected.take(number_of(given, "--lean-sigma-deg", limits_of(Quantity::lean_sigma)))) {
    plan.lean_sigma_rad = base::rad_from_deg(*sigma_deg);
  }
  if (const auto sigma_mm =
          collected.take(number_of(given, "--height-sigma-mm", limits_of(Quantity::gauge_sigma)))) {
    plan.height_sigma_m = base::m_from_mm(*sigma_mm);
  }
  plan.turn_sigma_turns = collected.take(number_of(given, "--turn-sigma-turns", {0.0, 1.0}))
                              .value_or(plan.turn_sigma_turns);
  const auto pivot = collected.take(word_of(given, "--pivot", {"mount", "fixed"}));
  if (pivot && *pivot == "fixed") plan.pivot = align::Pivot::fixed;
  plan.secondary_in_place = !given.has("--without-secondary");
  return plan;
}

tasks::SheetRequest read_sheet(const Given& given, Collected& collected) {
  tasks::SheetRequest sheet;
  if (const auto word = collected.take(word_of(given, "--order", {"rows", "rings"}))) {
    sheet.order = *tasks::order_of(*word);
  }
  if (const auto word = collected.take(word_of(given, "--side", {"back", "front"}))) {
    sheet.side = *word == "back" ? dish::Side::back : dish::Side::front;
  }
  for (const char* option : {"--order", "--side"}) {
    if (given.has(option) && !given.has("--sheet")) {
      collected.add({option, "given without a sheet", "--sheet OUT.html too"});
    }
  }
  return sheet;
}

/// Everything the options say that does not need the dish.
struct Wishes {
  std::optional<dish::Source> source;
  std::optional<dish::Board> board;
  std::optional<std::string> spot;
  std::optional<double> elevation_rad;
  tasks::SheetRequest sheet;
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
  wishes.sheet = read_sheet(given, collected);
  wishes.form = collected.take(form_of(given), Form::report);
  if (const auto elevation_deg =
          collected.take(number_of(given, "--elevation-deg", limits_of(Quantity::elevation)))) {
    wishes.elevation_rad = base::rad_from_deg(*elevation_deg);
  }
  const bool has_readings = given.has("--leans") || given.has("--heights");
  if ((given.has("--spots") || has_readings) == given.has("--round")) {
    collected.add({"--spots, --round", given.has("--round") ? "both given" : "neither given",
                   "one of them: a spots file, or a round of the dish; or --leans or --heights"});
  }
  if (given.has("--leans") && !wishes.elevation_rad) {
    collected.add({"--leans", "given without the dish's elevation", "--elevation-deg too"});
  }
  bool input_taken = given.operands[0] == "-";
  for (const char* table : {"--spots", "--leans", "--heights"}) {
    if (given.text(table) != "-") continue;
    if (input_taken) {
      collected.add({table, "-", "a file, because standard input is the dish or another table"});
    }
    input_taken = true;
  }
  return wishes;
}

std::string name_of_input(const std::string& path) { return path == "-" ? "standard input" : path; }

base::Result<files::ReadReadings<dish::Spot>> spots_of(const dish::Dish& dish,
                                                       const std::string& bytes,
                                                       const std::string& name) {
  const auto spots = tasks::spots_of_file(dish, bytes, name);
  if (!spots) return spots.problems();
  return files::ReadReadings<dish::Spot>{spots.value().spots, spots.value().notes};
}

/// One table of readings into the round; `read` takes bytes and a name.
template <class Rows, class Read>
base::Problems read_table(const Given& given, const Console& console, const char* option,
                          Rows& rows, Read read) {
  const auto path = given.text(option);
  if (!path) return {};
  const auto bytes = read_input(console, *path, files::k_facet_table_cap_bytes);
  if (!bytes) return bytes.problems();
  const auto table = read(bytes.value(), name_of_input(*path));
  if (!table) return table.problems();
  for (const std::string& note : table.value().notes) remark(console, *path + ": " + note);
  rows = table.value().readings;
  return {};
}

base::Result<dish::Round> read_round(const Given& given, const Console& console,
                                     const dish::Dish& dish) {
  if (const auto name = given.text("--round")) return tasks::round_of_dish(dish, *name);
  dish::Round round;
  round.name = given.text("--spots").value_or(
      given.text("--leans").value_or(given.text("--heights").value_or("")));
  Collected collected;
  collected.add(read_table(given, console, "--spots", round.spots,
                           [&](const std::string& bytes, const std::string& name) {
                             return spots_of(dish, bytes, name);
                           }));
  collected.add(read_table(given, console, "--leans", round.leans,
                           [&](const std::string& bytes, const std::string& name) {
                             return files::read_leans(bytes, name, dish);
                           }));
  collected.add(read_table(given, console, "--heights", round.heights,
                           [&](const std::string& bytes, const std::string& name) {
                             return files::read_heights(bytes, name, dish);
                           }));
  if (collected.any()) return collected.problems();
  return round;
}

/// Puts the file before problems of single facets, whose spots came from it.
base::Problems placed(const Given& given, base::Problems problems) {
  const std::string file = given.text("--spots").value_or(
      given.text("--leans").value_or(given.text("--heights").value_or(given.operands[0])));
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
  std::vector<Option> options{
      {"--spots", "SPOTS.csv", "Where the spots were seen: facet,right_mm,up_mm[,sigma_mm]."},
      {"--leans", "LEANS.csv",
       "Inclinometer readings, two directions or more for each facet: "
       "facet,edge_deg,reading_deg[,reversed_deg,sigma_deg]."},
      {"--elevation-deg", "deg",
       "Elevation of the dish's axis while the inclinometer was read, -90 to 90 deg."},
      {"--heights", "HEIGHTS.csv",
       "Heights of the facet's back over its bracket, three places or more: "
       "facet,x_mm,y_mm,height_mm[,sigma_mm]."},
      {"--round", "NAME", "Instead: a round that the dish file holds, by name, or last."},
  };
  for (const Option& option : sighting_options()) options.push_back(option);
  const std::vector<Option> further{
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
      {"--lean-sigma-deg", "deg",
       "Uncertainty of inclinometer readings that bring none, 0.0001 to 10 deg; default 0.1."},
      {"--height-sigma-mm", "mm",
       "Uncertainty of heights that bring none, 0.0001 to 50 mm; default 0.05."},
      {"--turn-sigma-turns", "turns", "How well a hand turns, 0 to 1 turn; default 1/12."},
      {"--pivot", "WORD",
       "What a tilt turns about: mount (the screws) or fixed (the centre); "
       "default mount."},
      {"--without-secondary", "", "The secondary was taken off for this round."},
      {"--skip-unusable", "", "Leave spots out that cannot be used, instead of refusing."},
      {"--sheet", "OUT.html", "Write a sheet to print, a card for each facet, too."},
      {"--order", "WORD",
       "Order of its cards: rows (from the bottom up, each row the other way) or rings; default "
       "rows."},
      {"--side", "WORD",
       "Where you stand: back or front; default the side the screws are turned from."},
      json_option(),
      csv_option(),
      out_option(),
  };
  options.insert(options.end(), further.begin(), further.end());
  return options;
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
  if (wishes.elevation_rad) request.round.elevation_rad = wishes.elevation_rad;
  request.plan.spot_is_centroid = wishes.spot ? *wishes.spot == "centroid"
                                              : tasks::is_centroid_by_default(request.round.source);
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, placed(given, reply.problems()));
  if (const auto path = given.text("--sheet")) {
    const auto written =
        write_whole(*path, tasks::sheet_html(dish.value(), reply.value(), wishes.sheet));
    if (!written) return report(console, written.problems());
  }
  return deliver(console, given, text_of(reply.value(), wishes.form));
}

}  // namespace cli
