// facetwright spots --look-back: eight photos of the dish with a screen's fringes in its facets, to
// the place of the screen that each facet shows.
#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>

#include "base/units.h"
#include "cli/commands.h"
#include "cli/photo_file.h"
#include "files/spots.h"
#include "tasks/look_back_task.h"
#include "tasks/sighting_settings.h"

namespace cli {
namespace {

constexpr Limits k_screen_side_mm{100.0, 10000.0};

std::optional<tasks::PointedFacet> pointed_facet(const std::string& word) {
  const std::size_t colon = word.rfind(':');
  const std::size_t comma = word.find(',', colon == std::string::npos ? 0 : colon);
  if (colon == std::string::npos || colon == 0 || comma == std::string::npos) return std::nullopt;
  const auto x_px = parse_number(word.substr(colon + 1, comma - colon - 1));
  const auto y_px = parse_number(word.substr(comma + 1));
  if (!x_px || !y_px) return std::nullopt;
  return tasks::PointedFacet{dish::FacetId{word.substr(0, colon)}, {*x_px, *y_px}};
}

/// "A1:812,440 A7:1203,455 ..."
std::vector<tasks::PointedFacet> pointed_facets(const Given& given, Collected& collected) {
  std::vector<tasks::PointedFacet> pointed;
  const auto text = given.text("--facets-px");
  if (!text) {
    collected.add({"--facets-px", "missing", "the middles of four facets or more in the photos"});
    return pointed;
  }
  std::size_t from = 0;
  while (from < text->size()) {
    const std::size_t to = std::min(text->find_first_of(" ;", from), text->size());
    const std::string word = text->substr(from, to - from);
    from = to + 1;
    if (word.empty()) continue;
    if (const auto one = pointed_facet(word)) {
      pointed.push_back(*one);
    } else {
      collected.add({"--facets-px", word, "FACET:X,Y with X and Y in pixels"});
    }
  }
  return pointed;
}

base::Vec3 look_back_camera_m(const Given& given, Collected& collected) {
  const Limits far{-tasks::k_farthest_source_mm, tasks::k_farthest_source_mm};
  const auto mm = collected.take(numbers_of(given, "--camera-mm", 3, far));
  if (mm) return 1e-3 * base::Vec3{(*mm)[0], (*mm)[1], (*mm)[2]};
  if (!given.has("--camera-mm")) {
    collected.add({"--camera-mm", "missing", "where the camera stands, as in 0,0,30000"});
  }
  return base::Vec3{0.0};
}

void read_look_back_photos(const Given& given, const Console& console, Collected& collected,
                           tasks::LookBackRequest& request) {
  const base::Progress progress = progress_of(console, "looking");
  const auto count = static_cast<double>(given.operands.size());
  for (const std::string& path : given.operands) {
    auto image = read_photo_file(console, path);
    if (image) {
      request.photos.push_back({path, std::move(image).value()});
    } else {
      collected.add(image.problems());
    }
    progress.tell(static_cast<double>(request.photos.size()) / count);
  }
  end_progress(console);
}

/// Options of the one kind of photos given with the other are told, not passed over.
void refuse_options(const Given& given, std::initializer_list<const char*> names, const char* found,
                    const char* expected, Collected& collected) {
  for (const char* name : names) {
    if (given.has(name)) collected.add({name, found, expected});
  }
}

std::string spots_file_of(const tasks::LookBackReply& reply) {
  std::vector<files::SpotRow> rows;
  for (const dish::Spot& spot : tasks::spots_of(reply)) {
    rows.push_back({.facet = spot.facet.text,
                    .right_m = spot.seen_m.x,
                    .up_m = spot.seen_m.y,
                    .sigma_m = spot.sigma_m});
  }
  return files::write_spots(rows);
}

}  // namespace

std::optional<photo::Screen> screen_of(const Given& given, Collected& collected) {
  const auto sides = collected.take(numbers_of(given, "--screen-mm", 2, k_screen_side_mm));
  if (!sides) return std::nullopt;
  return photo::Screen{base::m_from_mm((*sides)[0]), base::m_from_mm((*sides)[1])};
}

std::vector<Option> look_back_options() {
  return {
      {"--look-back", "",
       "The photos are the eight of a look back, in their order: the dish seen by a camera far "
       "away, in its facets the fringes of a screen at the receiver. With --dish, --screen-mm, "
       "--camera-mm and --facets-px; prints a spots file for align --source camera."},
      {"--screen-mm", "W,H",
       "With --look-back: the lit width and height of the screen, 100 to 10000 mm each."},
      {"--camera-mm", "X,Y,Z",
       "With --look-back: where the camera's entrance pupil was, in the dish frame."},
      {"--facets-px", "LIST",
       "With --look-back: where the middles of four facets or more are in the photos, in pixels "
       "from the top left corner, as in \"A1:812,440 C7:1203,455 C13:640,1010 C1:388,402\"."},
  };
}

void refuse_look_back_options(const Given& given, Collected& collected) {
  refuse_options(given, {"--screen-mm", "--camera-mm", "--facets-px"}, "given without --look-back",
                 "--look-back too", collected);
}

int carry_out_look_back(const Given& given, const Console& console) {
  Collected collected;
  refuse_options(given,
                 {"--board-size-mm", "--mark-mm", "--reference", "--spot-mm", "--before-focus-mm",
                  "--off-by-mrad", "--film", "--edges-deg"},
                 "given with --look-back", "one of the two", collected);
  const auto dish_file = given.text("--dish");
  if (!dish_file) collected.add({"--dish", "missing", "the dish whose facets are seen"});
  const auto screen = screen_of(given, collected);
  if (!screen && !given.has("--screen-mm")) {
    collected.add({"--screen-mm", "missing", "the screen's lit width and height, as in 344,194"});
  }
  tasks::LookBackRequest request{.screen = screen.value_or(photo::Screen{}),
                                 .camera_m = look_back_camera_m(given, collected),
                                 .pointed = pointed_facets(given, collected)};
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, *dish_file);
  if (!dish) return report(console, dish.problems());
  read_look_back_photos(given, console, collected, request);
  if (collected.any()) return report(console, collected.problems());
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, reply.problems());
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  for (const tasks::LookBackFacet& facet : reply.value().facets) {
    if (!facet.sentence.empty()) remark(console, facet.sentence);
  }
  for (const std::string& note : reply.value().notes) remark(console, note);
  return deliver(console, given, spots_file_of(reply.value()));
}

}  // namespace cli
