// Reads a request for spots: the settings as JSON, the pixels as bytes behind it.
#include <fmt/format.h>

#include <utility>

#include "base/units.h"
#include "photo/board_sheet.h"
#include "tasks/codec.h"
#include "tasks/spots_task.h"

namespace tasks {
namespace {

constexpr double k_any_mm = 1e9;

/// Sides and marks; how large a board may be is the board's own check.
photo::Board read_marked_board(Settings& settings) {
  photo::Board board;
  const Json* given = settings.raw("board");
  if (given == nullptr) {
    settings.add(base::Problem{"request.board", "missing", "{\"width_mm\", \"height_mm\"}"});
    return board;
  }
  Settings sides(*given, "request.board");
  const auto side = [&sides](const char* key, double& m) {
    if (const auto mm = sides.number(key, 0.0, k_any_mm)) {
      m = base::m_from_mm(*mm);
    } else if (sides.problems().empty()) {
      sides.add(base::Problem{std::string("request.board.") + key, "missing", "a length in mm"});
    }
  };
  side("width_mm", board.width_m);
  side("height_mm", board.height_m);
  board.mark_m = photo::good_mark_m(board.width_m, board.height_m);
  if (const auto mm = sides.number("mark_mm", 0.0, k_any_mm)) board.mark_m = base::m_from_mm(*mm);
  settings.add(sides.finish());
  if (sides.problems().empty()) settings.add(photo::check(board));
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

/// One photo, whose bytes are taken from the front of `pixels`.
void read_photo(const Json& given, const std::string& place, Settings& settings,
                std::string_view& pixels, std::vector<SpotsPhoto>& photos) {
  constexpr std::uint64_t k_most = std::uint64_t{1} << 40U;
  Settings entry(given, place);
  const std::string name = entry.text("name").value_or(fmt::format("photo {}", photos.size() + 1));
  const auto width = entry.whole("width_px", 0, k_most);
  const auto height = entry.whole("height_px", 0, k_most);
  const auto channels = entry.whole("channels", 1, 4);
  const auto bytes = entry.whole("bytes", 0, k_most);
  if (entry.problems().empty() && (!width || !height || !channels || !bytes)) {
    entry.add(base::Problem{place, "incomplete", "width_px, height_px, channels and bytes"});
  }
  if (entry.problems().empty() && *bytes > pixels.size()) {
    entry.add(base::Problem{
        place + ".bytes", fmt::format("{}", *bytes),
        fmt::format("at most the {} that follow the request's zero byte", pixels.size())});
  }
  settings.add(entry.finish());
  if (!entry.problems().empty()) return;
  auto image =
      photo::image_of_bytes(static_cast<std::int64_t>(*width), static_cast<std::int64_t>(*height),
                            static_cast<int>(*channels), pixels.substr(0, *bytes), name);
  pixels.remove_prefix(*bytes);
  if (!image) return settings.add(image.problems());
  photos.push_back({name, std::move(image).value(), {}});
}

/// The entries of a list, or a problem when it is none.
const Json* list_of(Settings& settings, const char* key, std::size_t most) {
  const Json* given = settings.raw(key);
  if (given == nullptr || (given->is_array() && given->size() <= most)) return given;
  settings.add(base::Problem{std::string("request.") + key, "no list, or one too long",
                             fmt::format("a list of at most {}", most)});
  return nullptr;
}

}  // namespace

base::Result<std::string> answer_spots(Settings& settings, std::string_view pixels,
                                       const base::Progress& progress) {
  SpotsRequest request{.board = read_marked_board(settings)};
  const Json* photos = list_of(settings, "photos", k_most_photos);
  if (photos == nullptr && settings.problems().empty()) {
    settings.add(base::Problem{"request.photos", "missing", "a list of photos"});
  }
  for (std::size_t k = 0; photos != nullptr && k < photos->size(); ++k) {
    read_photo((*photos)[k], fmt::format("request.photos[{}]", k), settings, pixels,
               request.photos);
  }
  if (settings.problems().empty() && !pixels.empty()) {
    settings.add(base::Problem{"request", fmt::format("{} bytes too many", pixels.size()),
                               "as many bytes as the photos have"});
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
