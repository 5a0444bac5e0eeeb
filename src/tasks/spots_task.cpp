// Runs photographs through marks, rectification and search, and lays the spots out.
#include "tasks/spots_task.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "base/units.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;

struct FlagWord {
  const char* word;
  bool photo::Spot::*flag;
};
constexpr FlagWord k_flags[] = {{"merged", &photo::Spot::merged},
                                {"saturated", &photo::Spot::saturated},
                                {"cut", &photo::Spot::cut},
                                {"on_mark", &photo::Spot::on_mark},
                                {"rough_size", &photo::Spot::rough_size}};

base::Result<photo::Rectification> view_of(const SpotsPhoto& one, const photo::Board& board,
                                           std::vector<std::string>& notes) {
  const auto marks = photo::find_marks(one.image, board, one.name, one.clicked);
  if (!marks) return marks.problems();
  auto view = photo::rectify(marks.value().marks, board, one.image.size_px(), one.name);
  if (!view) return view.problems();
  notes = marks.value().notes;
  notes.insert(notes.end(), view.value().notes.begin(), view.value().notes.end());
  return view;
}

/// The covered board and where it was seen from.
struct Reference {
  const SpotsPhoto* photo = nullptr;
  photo::Rectification view;
};

bool same_frame(const photo::Image& a, const photo::Image& b) {
  return a.width == b.width && a.height == b.height && a.reduction == b.reduction;
}

PhotoSpots spots_of(const SpotsPhoto& one, const SpotsRequest& request,
                    const std::optional<Reference>& reference) {
  PhotoSpots result{.name = one.name};
  auto view = view_of(one, request.board, result.notes);
  if (!view && reference && one.clicked.empty() && same_frame(one.image, reference->photo->image)) {
    result.notes.push_back(
        fmt::format("{}; the view of {} is used, so the camera must not have moved between the two",
                    base::to_line(view.problems().front()), reference->photo->name));
    view = reference->view;
  }
  if (!view) {
    result.problems = view.problems();
    return result;
  }
  result.view = std::move(view).value();
  const double pitch_m = photo::good_pitch_m(one.image, result.view, request.board);
  const auto seen = photo::view_of_board(one.image, result.view, request.board, pitch_m);
  const auto difference =
      reference
          ? photo::less_reference(seen,
                                  photo::view_of_board(reference->photo->image, reference->view,
                                                       request.board, pitch_m),
                                  result.notes)
          : photo::less_background(seen);
  result.found =
      photo::find_spots(difference, request.board, result.view, {.spot_m = request.spot_m});
  result.notes.insert(result.notes.end(), result.found.notes.begin(), result.found.notes.end());
  return result;
}

/// The face of the board in a photo whose view is known, without its background.
photo::BoardView difference_of(const SpotsPhoto& one, const photo::Rectification& view,
                               const photo::Board& board) {
  const double pitch_m = photo::good_pitch_m(one.image, view, board);
  return photo::less_background(photo::view_of_board(one.image, view, board, pitch_m));
}

/// Light at each spot of the first photo, in a frame of the same view.
std::vector<double> lights_at(const SpotsPhoto& frame, const PhotoSpots& first,
                              const photo::Board& board) {
  const photo::BoardView difference = difference_of(frame, first.view, board);
  std::vector<double> lights;
  for (const photo::Spot& spot : first.found.spots) {
    lights.push_back(photo::presence_at(difference, spot.place_m, first.found.spot_m, 1.0).score);
  }
  return lights;
}

PhotoSpots frame_of(const SpotsPhoto& frame, const SpotsPhoto& whole, const PhotoSpots& first,
                    const std::vector<double>& full, const photo::Board& board) {
  PhotoSpots result{.name = frame.name};
  if (!same_frame(frame.image, whole.image)) {
    result.problems.push_back(
        {frame.name,
         fmt::format("{} x {} pixels", frame.image.size_px().x, frame.image.size_px().y),
         fmt::format("{} x {} as in {}: frames of one film, from a camera on a stand",
                     whole.image.size_px().x, whole.image.size_px().y, whole.name)});
    return result;
  }
  result.view = first.view;
  const std::vector<double> lights = lights_at(frame, first, board);
  for (std::size_t k = 0; k < lights.size(); ++k) {
    result.left.push_back(full[k] > 0.0 ? lights[k] / full[k] : 0.0);
  }
  return result;
}

/// Spots of the first photo, and what the frames after it leave of them.
base::Result<SpotsReply> follow(const SpotsRequest& request, const base::Progress& progress) {
  if (request.reference) {
    return base::Problem{"reference", "given with frames that follow", "one of the two"};
  }
  if (request.photos.empty()) return base::Problem{"photos", "none", "a photo of the whole dish"};
  SpotsReply reply{.board = request.board};
  const SpotsPhoto& whole = request.photos.front();
  reply.photos.push_back(spots_of(whole, request, {}));
  const PhotoSpots first = reply.photos.front();
  if (!first.problems.empty()) return first.problems;
  const std::vector<double> full = lights_at(whole, first, request.board);
  for (std::size_t k = 1; k < request.photos.size(); ++k) {
    if (progress.cancelled()) return base::Problem{"spots", "cancelled", "to run to its end"};
    progress.tell(static_cast<double>(k) / static_cast<double>(request.photos.size()));
    reply.photos.push_back(frame_of(request.photos[k], whole, first, full, request.board));
    if (!reply.photos.back().problems.empty()) return reply.photos.back().problems;
  }
  progress.tell(1.0);
  return reply;
}

/// So many decimals are told; those beyond are below anything that is known.
Json rounded(double value, double steps_per_unit) {
  return number(std::round(value * steps_per_unit) / steps_per_unit);
}

Json mm_json(double m) { return rounded(mm_from_m(m), 1e4); }

Json pair_json(const base::Vec2& value, double steps_per_unit) {
  return Json::array({rounded(value.x, steps_per_unit), rounded(value.y, steps_per_unit)});
}

std::vector<std::string> flags_of(const photo::Spot& spot) {
  std::vector<std::string> words;
  for (const FlagWord& flag : k_flags) {
    if (spot.*flag.flag) words.emplace_back(flag.word);
  }
  return words;
}

Json spot_json(const photo::Spot& spot) {
  return Json{{"right_mm", mm_json(spot.place_m.x)},
              {"up_mm", mm_json(spot.place_m.y)},
              {"sigma_mm", mm_json(spot.sigma_m)},
              {"diameter_mm", Json::array({mm_json(spot.longer_m), mm_json(spot.shorter_m)})},
              {"longer_axis", pair_json(spot.longer_axis, 1e4)},
              {"flux_share", rounded(spot.flux_share, 1e6)},
              {"flags", Json(flags_of(spot))}};
}

Json photo_json(const PhotoSpots& one, const photo::Board& board) {
  Json json{{"name", one.name}};
  if (!one.left.empty()) {
    json["left"] = Json::array();
    for (const double left : one.left) json["left"].push_back(rounded(left, 1e4));
  } else if (one.problems.empty()) {
    const auto names = photo::marks_of(board);
    Json marks = Json::array();
    for (std::size_t k = 0; k < one.view.marks.size(); ++k) {
      const photo::SeenMark& mark = one.view.marks[k];
      marks.push_back(Json{{"mark", names[mark.mark].name},
                           {"x_px", rounded(mark.image_px.x, 1e3)},
                           {"y_px", rounded(mark.image_px.y, 1e3)},
                           {"residual_px", pair_json(one.view.residuals_px[k], 1e3)}});
    }
    Json spots = Json::array();
    for (const photo::Spot& spot : one.found.spots) spots.push_back(spot_json(spot));
    json["k1"] = rounded(one.view.k1(), 1e5);
    json["k1_is_fitted"] = one.view.k1_is_fitted;
    json["marks"] = std::move(marks);
    json["spot_mm"] = mm_json(one.found.spot_m);
    json["noise"] = rounded(one.found.noise, 1e6);
    json["spots"] = std::move(spots);
  }
  json["notes"] = one.notes;
  json["problems"] = Json::array();
  for (const base::Problem& problem : one.problems) {
    json["problems"].push_back(
        Json{{"place", problem.place}, {"value", problem.value}, {"expected", problem.expected}});
  }
  return json;
}

Table spots_table(const photo::FoundSpots& found) {
  Table table{.columns = {{"right mm"},
                          {"up mm"},
                          {"+- mm"},
                          {"diameter mm"},
                          {"across mm"},
                          {"flux %"},
                          {"remarks", false}}};
  for (const photo::Spot& spot : found.spots) {
    table.rows.push_back({fixed(mm_from_m(spot.place_m.x), 2), fixed(mm_from_m(spot.place_m.y), 2),
                          fixed(mm_from_m(spot.sigma_m), 2), fixed(mm_from_m(spot.longer_m), 1),
                          fixed(mm_from_m(spot.shorter_m), 1), fixed(100.0 * spot.flux_share, 2),
                          fmt::format("{}", fmt::join(flags_of(spot), ", "))});
  }
  return table;
}

}  // namespace

base::Result<SpotsReply> run(const SpotsRequest& request, const base::Progress& progress) {
  if (base::Problems problems = photo::check(request.board); !problems.empty()) return problems;
  if (request.follows) return follow(request, progress);
  std::optional<Reference> reference;
  if (request.reference) {
    reference = Reference{.photo = &request.photos[*request.reference]};
    std::vector<std::string> notes;
    auto view = view_of(*reference->photo, request.board, notes);
    if (!view) return view.problems();
    reference->view = std::move(view).value();
  }
  SpotsReply reply{.board = request.board};
  base::Problems problems;
  bool any = false;
  for (std::size_t k = 0; k < request.photos.size(); ++k) {
    if (request.reference == k) continue;
    if (progress.cancelled()) return base::Problem{"spots", "cancelled", "to run to its end"};
    progress.tell(static_cast<double>(k) / static_cast<double>(request.photos.size()));
    reply.photos.push_back(spots_of(request.photos[k], request, reference));
    any = any || reply.photos.back().problems.empty();
    base::append(problems, reply.photos.back().problems);
  }
  if (!any) {
    if (problems.empty()) problems.push_back({"photos", "none", "a photo beside the reference"});
    return problems;
  }
  progress.tell(1.0);
  return reply;
}

std::string json_text(const SpotsReply& reply) {
  Json photos = Json::array();
  for (const PhotoSpots& one : reply.photos) photos.push_back(photo_json(one, reply.board));
  return to_text(Json{{"board",
                       {{"width_mm", mm_json(reply.board.width_m)},
                        {"height_mm", mm_json(reply.board.height_m)},
                        {"mark_mm", mm_json(reply.board.mark_m)}}},
                      {"photos", std::move(photos)}}) +
         "\n";
}

std::string report_text(const SpotsReply& reply) {
  std::string text;
  for (const PhotoSpots& one : reply.photos) {
    if (!text.empty()) text += "\n";
    text += one.name + "\n";
    text += base::to_text(one.problems);
    if (one.problems.empty() && one.left.empty()) {
      Lines lines;
      lines.add("marks", fmt::format("{} of {}", one.view.marks.size(), photo::k_marks));
      lines.add("lens, k1", one.view.k1_is_fitted ? fixed_signed(one.view.k1(), 4)
                                                  : "not known from so few marks");
      lines.add("spots", fmt::format("{}", one.found.spots.size()));
      text += to_text(lines) + "\n" + to_text(spots_table(one.found));
    }
    for (const std::string& note : one.notes) text += note + "\n";
  }
  return text +
         "\nRight and up as someone sees it who faces the board's lit side, from its middle.\n";
}

std::string csv_text(const SpotsReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const PhotoSpots& one : reply.photos) {
    for (const photo::Spot& spot : one.found.spots) {
      rows.push_back({"", fixed(mm_from_m(spot.place_m.x), 4), fixed(mm_from_m(spot.place_m.y), 4),
                      fixed(mm_from_m(spot.sigma_m), 4)});
    }
  }
  return to_csv({"facet", "right_mm", "up_mm", "sigma_mm"}, rows);
}

}  // namespace tasks
