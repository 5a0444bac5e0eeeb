// facetwright spots and board: a photo of the target board to spots on it, and the board's marks.
#include <fmt/format.h>

#include "base/units.h"
#include "cli/commands.h"
#include "cli/photo_file.h"
#include "photo/board_sheet.h"
#include "tasks/spots_task.h"

namespace cli {
namespace {

Option board_size_option() {
  return {"--board-mm", "W,H", "Width and height of the board, 100 to 10000 mm each."};
}
Option mark_option() {
  return {"--mark-mm", "mm",
          "Diameter of the marks, at least 5 mm; default a fourteenth of the board's shorter side, "
          "12 to 80 mm."};
}

photo::Board photo_board_of(const Given& given, Collected& collected) {
  photo::Board board;
  const auto sides = collected.take(numbers_of(given, "--board-mm", 2, {100.0, 10000.0}));
  const auto mark = collected.take(number_of(given, "--mark-mm", {5.0, 1000.0}));
  if (!sides) {
    if (!collected.any()) {
      collected.add({"--board-mm", "missing", "the board's width and height, as in 430,430"});
    }
    return board;
  }
  board.width_m = base::m_from_mm((*sides)[0]);
  board.height_m = base::m_from_mm((*sides)[1]);
  board.mark_m = mark ? base::m_from_mm(*mark) : photo::good_mark_m(board.width_m, board.height_m);
  base::Problems problems = photo::check(board);
  for (base::Problem& problem : problems) {
    problem.place = problem.place == "board.mark_mm" ? "--mark-mm" : "--board-mm";
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

}  // namespace

std::vector<Option> board_options() { return {board_size_option(), mark_option(), out_option()}; }

int carry_out_board(const Given& given, const Console& console) {
  Collected collected;
  const photo::Board board = photo_board_of(given, collected);
  if (collected.any()) return report(console, collected.problems());
  return deliver(console, given, photo::board_sheet(board));
}

std::vector<Option> spots_options() {
  return {
      board_size_option(),
      mark_option(),
      {"--reference", "PHOTO", "A photo of the same board with all facets covered."},
      {"--spot-mm", "mm",
       "Expected diameter of a spot, 0.1 to 10000 mm; default the middle one of what is seen."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_spots(const Given& given, const Console& console) {
  Collected collected;
  tasks::SpotsRequest request{.board = photo_board_of(given, collected)};
  if (const auto mm = collected.take(number_of(given, "--spot-mm", {0.1, 10000.0}))) {
    request.spot_m = base::m_from_mm(*mm);
  }
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  const base::Progress progress = progress_of(console, "looking");
  add_photo(console, given.operands[0], collected, request);
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
  if (form != Form::report) {
    for (const std::string& note : reply.value().photos.front().notes) remark(console, note);
  }
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  return deliver(
      console, given,
      form == Form::csv ? tasks::csv_text(reply.value()) : tasks::report_text(reply.value()));
}

}  // namespace cli
