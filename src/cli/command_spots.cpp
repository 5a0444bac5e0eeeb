// facetwright spots and board: a photo of the target board to spots on it, and the board's marks.
#include <fmt/format.h>

#include "base/units.h"
#include "cli/commands.h"
#include "cli/film.h"
#include "cli/photo_file.h"
#include "files/spots.h"
#include "naming/schemes.h"
#include "photo/board_sheet.h"
#include "photo/fringe_sheet.h"
#include "tasks/identify_task.h"
#include "tasks/spots_task.h"

namespace cli {
namespace {

Option board_size_option() {
  return {"--board-size-mm", "W,H", "Width and height of the board, 100 to 10000 mm each."};
}
Option mark_option() {
  return {"--mark-mm", "mm",
          "Diameter of the marks, at least 5 mm; default a fourteenth of the board's shorter side, "
          "12 to 80 mm."};
}

photo::Board photo_board_of(const Given& given, Collected& collected) {
  photo::Board board;
  const auto sides = collected.take(numbers_of(given, "--board-size-mm", 2, {100.0, 10000.0}));
  const auto mark = collected.take(number_of(given, "--mark-mm", {5.0, 1000.0}));
  if (!sides) {
    if (!collected.any()) {
      collected.add({"--board-size-mm", "missing", "the board's width and height, as in 430,430"});
    }
    return board;
  }
  board.width_m = base::m_from_mm((*sides)[0]);
  board.height_m = base::m_from_mm((*sides)[1]);
  board.mark_m = mark ? base::m_from_mm(*mark) : photo::good_mark_m(board.width_m, board.height_m);
  base::Problems problems = photo::check(board);
  for (base::Problem& problem : problems) {
    problem.place = problem.place == "board.mark_mm" ? "--mark-mm" : "--board-size-mm";
  }
  collected.add(problems);
  return board;
}

/// Reads a photo into the request; its problems are collected.
void add_photo(const Console& console, const std::string& path, Collected& collected,
               tasks::SpotsRequest& request) {
  auto image = read_photo_file(console, path);
  if (image) {
    request.photos.push_back({path, std::move(image).value(), {}});
  } else {
    collected.add(image.problems());
  }
}

/// Gives the photo's spots to the dish's facets, the board standing where the options say.
base::Result<tasks::IdentifyReply> names_of(const dish::Dish& dish, const Given& given,
                                            const std::optional<Film>& film,
                                            const tasks::SpotsReply& reply) {
  Collected collected;
  const double most_mm = base::mm_from_m(0.9 * dish.focal_length_m);
  const auto before = collected.take(number_of(given, "--before-focus-mm", {0.0, most_mm}));
  const auto prior = collected.take(number_of(given, "--off-by-mrad", {0.1, 100.0}));
  if (collected.any()) return collected.problems();
  tasks::IdentifyRequest request{
      .round = {.board = naming::board_before_focus(dish, base::m_from_mm(before.value_or(0.0)))},
      .secondary_in_place = false,
      .photos = {{}}};
  if (prior) request.start_rad = base::rad_from_mrad(*prior);
  request.settings.board_area_m2 = reply.board.width_m * reply.board.height_m;
  request.has_area = true;
  if (film) {
    auto crossings = crossings_of(*film, reply);
    if (!crossings) return crossings.problems();
    request.crossings = std::move(crossings).value();
  }
  for (const photo::Spot& spot : reply.photos.front().found.spots) {
    request.photos.front().spots.push_back({spot.place_m, spot.sigma_m, spot.flux, spot.merged});
  }
  return tasks::run(dish, request);
}

/// What is sure as rows of a spots file; what is not, on standard error.
std::string named_csv(const Console& console, const tasks::IdentifyReply& names) {
  std::vector<files::SpotRow> rows;
  for (const dish::Spot& spot : names.spots) {
    rows.push_back({.facet = spot.facet.text,
                    .right_m = spot.seen_m.x,
                    .up_m = spot.seen_m.y,
                    .sigma_m = spot.sigma_m});
  }
  for (const naming::Finding& finding : names.found.findings) {
    if (!finding.sentence.empty()) remark(console, finding.sentence);
  }
  if (!names.found.common.sentence.empty()) remark(console, names.found.common.sentence);
  return files::write_spots(rows);
}

int deliver_named(const Given& given, const Console& console, const std::string& dish_file,
                  Form form, const std::optional<Film>& film, const tasks::SpotsReply& reply) {
  const auto dish = open_dish_file(console, dish_file);
  if (!dish) return report(console, dish.problems());
  const auto names = names_of(dish.value(), given, film, reply);
  if (!names) return report(console, names.problems());
  return deliver(
      console, given,
      form == Form::json ? tasks::json_text(names.value()) : named_csv(console, names.value()));
}

}  // namespace

std::vector<Option> board_options() {
  return {board_size_option(),
          mark_option(),
          {"--screen-mm", "W,H",
           "Instead: a page for a screen whose lit part is so wide and high, which shows the "
           "fringes of a look back, one after the other."},
          out_option()};
}

int carry_out_board(const Given& given, const Console& console) {
  Collected collected;
  if (const auto screen = screen_of(given, collected)) {
    return deliver(console, given, photo::fringe_sheet(*screen));
  }
  const photo::Board board = photo_board_of(given, collected);
  if (collected.any()) return report(console, collected.problems());
  return deliver(console, given, photo::board_sheet(board));
}

std::vector<Option> spots_options() {
  std::vector<Option> options{
      board_size_option(),
      mark_option(),
      {"--reference", "PHOTO", "A photo of the same board with all facets covered."},
      {"--spot-mm", "mm",
       "Expected diameter of a spot, 0.1 to 10000 mm; default the middle one of what is seen."},
      {"--dish", "DISH.json",
       "Whose spots they are: prints a spots file with the facets' names, for align --spots; "
       "doubtful ones are left out and named on standard error."},
      {"--before-focus-mm", "D",
       "With --dish: how far inside the focus the board stands; default 0, at the focus."},
      {"--off-by-mrad", "S",
       "With --dish: how far facets stand off per axis, 0.1 to 100; default 3, as after setting "
       "by caliper."},
      json_option(),
      csv_option(),
      out_option(),
  };
  for (auto& more : {film_options(), look_back_options()}) {
    options.insert(options.end(), more.begin(), more.end());
  }
  return options;
}

int carry_out_spots(const Given& given, const Console& console) {
  if (given.has("--look-back")) return carry_out_look_back(given, console);
  if (given.operands.size() > 1 && !given.has("--film")) {
    return report(console, {{"spots", given.operands[1], "no further word here"}});
  }
  Collected collected;
  refuse_look_back_options(given, collected);
  tasks::SpotsRequest request{.board = photo_board_of(given, collected)};
  if (const auto mm = collected.take(number_of(given, "--spot-mm", {0.1, 10000.0}))) {
    request.spot_m = base::m_from_mm(*mm);
  }
  const Form form = collected.take(form_of(given), Form::report);
  const std::optional<Film> film = film_of(given, collected);
  request.follows = film.has_value();
  if (collected.any()) return report(console, collected.problems());
  const base::Progress progress = progress_of(console, "looking");
  for (const std::string& path : given.operands) add_photo(console, path, collected, request);
  progress.tell(0.3);
  if (const auto path = given.text("--reference")) {
    request.reference = 1;
    add_photo(console, *path, collected, request);
  }
  if (collected.any()) {
    end_progress(console);
    return report(console, collected.problems());
  }
  const auto reply = tasks::run(request, progress);
  end_progress(console);
  if (!reply) return report(console, reply.problems());
  if (const auto dish = given.text("--dish")) {
    const tasks::PhotoSpots& first = reply.value().photos.front();
    if (!first.problems.empty()) return report(console, first.problems);
    return deliver_named(given, console, *dish, form, film, reply.value());
  }
  if (form != Form::report) {
    for (const std::string& note : reply.value().photos.front().notes) remark(console, note);
  }
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  return deliver(
      console, given,
      form == Form::csv ? tasks::csv_text(reply.value()) : tasks::report_text(reply.value()));
}

}  // namespace cli
