// Reads a request for spots: the settings as JSON, the pixels as bytes behind it.
#include <fmt/format.h>

#include <optional>
#include <utility>

#include "base/units.h"
#include "photo/board_sheet.h"
#include "tasks/codec.h"
#include "tasks/sent_photos.h"
#include "tasks/sides.h"
#include "tasks/spots_task.h"

namespace tasks {
namespace {

constexpr double k_any_mm = 1e9;

/// Sides and marks; how large a board may be is the board's own check.
photo::Board read_marked_board(Settings& settings) {
  std::optional<double> mark_mm;
  const auto sides = read_sides(settings, "board", [&mark_mm](Settings& given) {
    mark_mm = given.number("mark_mm", 0.0, k_any_mm);
  });
  if (!sides) return {};
  const photo::Board board{.width_m = sides->width_m,
                           .height_m = sides->height_m,
                           .mark_m = mark_mm ? base::m_from_mm(*mark_mm)
                                             : photo::good_mark_m(sides->width_m, sides->height_m)};
  settings.add(photo::check(board));
  return board;
}

std::vector<std::string> mark_names() {
  std::vector<std::string> names;
  for (const photo::BoardMark& mark : photo::marks_of({})) names.emplace_back(mark.name);
  return names;
}

/// {"photo", "mark", "x_px", "y_px"}: a mark that a person pointed at.
void read_click(const Json& given, const std::string& place, Settings& settings,
                std::vector<SpotsPhoto>& photos) {
  Settings click(given, place);
  const auto names = mark_names();
  const std::size_t index = click.whole("photo", 0, k_most_photos).value_or(0);
  const auto mark = click.word("mark", names);
  const auto x_px = click.number("x_px", -k_any_mm, k_any_mm);
  const auto y_px = click.number("y_px", -k_any_mm, k_any_mm);
  if (click.problems().empty() && (!mark || !x_px || !y_px || index >= photos.size())) {
    click.add(base::Problem{place, "incomplete", "photo (an index), mark, x_px and y_px"});
  }
  settings.add(click.finish());
  if (!click.problems().empty()) return;
  for (std::size_t k = 0; k < names.size(); ++k) {
    if (names[k] == *mark) photos[index].clicked.push_back({k, {*x_px, *y_px}});
  }
}

}  // namespace

base::Result<std::string> answer_spots(Settings& settings, std::string_view pixels,
                                       const base::Progress& progress) {
  SpotsRequest request{.board = read_marked_board(settings)};
  for (SentPhoto& photo : read_photos(settings, pixels, k_most_photos)) {
    request.photos.push_back({std::move(photo.name), std::move(photo.image), {}});
  }
  const Json* marks = list_of(settings, "marks", k_most_photos * photo::k_marks);
  for (std::size_t k = 0; marks != nullptr && k < marks->size(); ++k) {
    read_click((*marks)[k], fmt::format("request.marks[{}]", k), settings, request.photos);
  }
  if (const auto reference = settings.whole("reference", 0, k_most_photos)) {
    request.reference = *reference;
    if (settings.problems().empty() && *reference >= request.photos.size()) {
      settings.add(base::Problem{"request.reference", fmt::format("{}", *reference),
                                 "the index of a photo"});
    }
  }
  request.follows = settings.yes_or_no("follow").value_or(false);
  if (const auto mm = settings.number("spot_mm", 0.1, 10000.0)) {
    request.spot_m = base::m_from_mm(*mm);
  }
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(request, progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

base::Result<std::string> answer_board(Settings& settings) {
  const photo::Board board = read_marked_board(settings);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  Json marks = Json::array();
  for (const photo::BoardMark& mark : photo::marks_of(board)) {
    marks.push_back(Json{{"mark", mark.name},
                         {"right_mm", number(base::mm_from_m(mark.place_m.x))},
                         {"up_mm", number(base::mm_from_m(mark.place_m.y))}});
  }
  return to_text(Json{{"mark_mm", number(base::mm_from_m(board.mark_m))},
                      {"marks", std::move(marks)},
                      {"html", photo::board_sheet(board)}}) +
         "\n";
}

}  // namespace tasks
