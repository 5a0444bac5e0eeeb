// The request is put together as the task reads it; the reply is read back key by key.
#include "tasks/spots_messages.h"

#include <algorithm>

#include "base/units.h"
#include "tasks/reply_reader.h"

namespace tasks {
namespace {

using base::mm_from_m;

base::Vec2 pair_of(const Json& json) {
  return {json.at(0).get<double>(), json.at(1).get<double>()};
}

std::size_t mark_index(const std::string& name) {
  const auto marks = photo::marks_of({});
  for (std::size_t k = 0; k < marks.size(); ++k) {
    if (name == marks[k].name) return k;
  }
  return 0;
}

photo::Spot read_spot(const Json& json) {
  photo::Spot spot{.place_m = {metres(json, "right_mm"), metres(json, "up_mm")},
                   .sigma_m = metres(json, "sigma_mm"),
                   .longer_m = base::m_from_mm(json.at("diameter_mm").at(0).get<double>()),
                   .shorter_m = base::m_from_mm(json.at("diameter_mm").at(1).get<double>()),
                   .longer_axis = pair_of(json.at("longer_axis")),
                   .flux_share = real(json, "flux_share")};
  const auto flags = json.at("flags").get<std::vector<std::string>>();
  const auto has = [&](const char* word) {
    return std::find(flags.begin(), flags.end(), word) != flags.end();
  };
  spot.flux = spot.flux_share;
  spot.merged = has("merged");
  spot.saturated = has("saturated");
  spot.cut = has("cut");
  spot.on_mark = has("on_mark");
  spot.rough_size = has("rough_size");
  return spot;
}

PhotoSpots read_photo_spots(const Json& json) {
  PhotoSpots one{.name = json.at("name").get<std::string>()};
  for (const Json& note : json.at("notes")) one.notes.push_back(note.get<std::string>());
  for (const Json& each : json.at("problems")) {
    one.problems.push_back(
        {each.value("place", ""), each.value("value", ""), each.value("expected", "")});
  }
  if (!one.problems.empty()) return one;
  if (json.contains("left")) {
    for (const Json& left : json.at("left")) one.left.push_back(left.get<double>());
    return one;
  }
  for (const Json& mark : json.at("marks")) {
    one.view.marks.push_back({.mark = mark_index(mark.at("mark").get<std::string>()),
                              .image_px = {real(mark, "x_px"), real(mark, "y_px")},
                              .sigma_px = 0.1});
    one.view.residuals_px.push_back(pair_of(mark.at("residual_px")));
  }
  for (const Json& spot : json.at("spots")) one.found.spots.push_back(read_spot(spot));
  one.found.spot_m = metres(json, "spot_mm");
  return one;
}

}  // namespace

std::string spots_request(const std::vector<PhotoPixels>& photos, const photo::Board& board,
                          std::optional<std::size_t> reference, bool follows) {
  Json request{{"task", "spots"},
               {"board",
                {{"width_mm", mm_from_m(board.width_m)},
                 {"height_mm", mm_from_m(board.height_m)},
                 {"mark_mm", mm_from_m(board.mark_m)}}},
               {"photos", Json::array()},
               {"marks", Json::array()}};
  std::vector<RgbaPixels> pixels;
  const auto names = photo::marks_of(board);
  for (std::size_t k = 0; k < photos.size(); ++k) {
    const PhotoPixels& one = photos[k];
    pixels.push_back(one);
    request["photos"].push_back(entry_of(one));
    for (const photo::ClickedMark& click : one.clicked) {
      request["marks"].push_back(Json{{"photo", k},
                                      {"mark", names[click.mark].name},
                                      {"x_px", click.image_px.x},
                                      {"y_px", click.image_px.y}});
    }
  }
  if (request["marks"].empty()) request.erase("marks");
  if (reference) request["reference"] = *reference;
  if (follows) request["follow"] = true;
  return with_pixels(request, pixels);
}

base::Result<SpotsReply> read_spots_reply(std::string_view reply) {
  return read_with<SpotsReply>(reply, [](const Json& json) {
    SpotsReply read;
    const Json& board = json.at("board");
    read.board = {metres(board, "width_mm"), metres(board, "height_mm"), metres(board, "mark_mm")};
    for (const Json& one : json.at("photos")) read.photos.push_back(read_photo_spots(one));
    return read;
  });
}

}  // namespace tasks
