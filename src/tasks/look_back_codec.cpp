// The look back as JSON: its request and reply, written and read.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.h"
#include "photo/fringe_sheet.h"
#include "tasks/codec.h"
#include "tasks/look_back_task.h"
#include "tasks/reply_reader.h"
#include "tasks/sides.h"
#include "tasks/sighting_settings.h"

namespace tasks {
namespace {

using base::mm_from_m;
using photo::FringeFault;

constexpr double k_any_px = 1e6;
constexpr std::size_t k_most_pointed = 1000;

photo::Screen read_screen(Settings& settings) {
  const auto sides = read_sides(settings, "screen");
  if (!sides) return {};
  const photo::Screen screen{sides->width_m, sides->height_m};
  settings.add(photo::check(screen));
  return screen;
}

/// [{"facet", "x_px", "y_px"}]
std::vector<PointedFacet> read_pointed(Settings& settings) {
  std::vector<PointedFacet> pointed;
  const Json* given = list_of(settings, "pointed", k_most_pointed);
  for (std::size_t k = 0; given != nullptr && k < given->size(); ++k) {
    const std::string place = fmt::format("request.pointed[{}]", k);
    Settings entry((*given)[k], place);
    const auto facet = entry.text("facet");
    const auto x_px = entry.number("x_px", -k_any_px, k_any_px);
    const auto y_px = entry.number("y_px", -k_any_px, k_any_px);
    if (entry.problems().empty() && (!facet || !x_px || !y_px)) {
      entry.add(base::Problem{place, "incomplete", "facet, x_px and y_px"});
    }
    settings.add(entry.finish());
    if (entry.problems().empty()) pointed.push_back({dish::FacetId{*facet}, {*x_px, *y_px}});
  }
  return pointed;
}

/// So many decimals are told; those beyond are below anything that is known.
Json look_back_number(double value, double steps_per_unit) {
  return number(std::round(value * steps_per_unit) / steps_per_unit);
}

Json look_back_facet_json(const LookBackFacet& facet) {
  const photo::FringeReading& reading = facet.reading;
  const bool is_read = reading.fault == FringeFault::none;
  const auto mm = [&](double m) {
    return is_read ? look_back_number(mm_from_m(m), 1e4) : Json(nullptr);
  };
  return Json{{"facet", facet.facet.text},
              {"x_px", look_back_number(facet.image_px.x, 1e2)},
              {"y_px", look_back_number(facet.image_px.y, 1e2)},
              {"right_mm", mm(reading.screen_m.x)},
              {"up_mm", mm(reading.screen_m.y)},
              {"sigma_mm", mm(std::max(reading.sigma_m.x, reading.sigma_m.y))},
              {"modulation", look_back_number(reading.modulation, 1e4)},
              {"text", facet.sentence}};
}

LookBackFacet read_facet(const Json& json) {
  LookBackFacet facet{.facet = {json.at("facet").get<std::string>()},
                      .image_px = {real(json, "x_px"), real(json, "y_px")},
                      .sentence = json.at("text").get<std::string>()};
  photo::FringeReading& reading = facet.reading;
  if (json.at("right_mm").is_null()) reading.fault = FringeFault::no_fringes;
  reading.screen_m = {metres(json, "right_mm"), metres(json, "up_mm")};
  reading.sigma_m = base::Vec2{metres(json, "sigma_mm")};
  reading.modulation = real(json, "modulation");
  return facet;
}

}  // namespace

base::Result<std::string> answer_look_back(const Call& call, std::string_view pixels) {
  Settings& settings = call.settings;
  LookBackRequest request{.screen = read_screen(settings)};
  constexpr double k_far = k_farthest_source_mm;
  if (const auto camera = settings.triple("camera_mm", -k_far, k_far)) {
    request.camera_m = 1e-3 * *camera;
  } else if (settings.problems().empty()) {
    settings.add(base::Problem{"request.camera_mm", "missing", "where the camera stands"});
  }
  request.pointed = read_pointed(settings);
  request.photos = read_photos(settings, pixels, photo::k_fringe_pictures);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

base::Result<std::string> answer_fringes(Settings& settings) {
  const photo::Screen screen = read_screen(settings);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  return to_text(Json{{"html", photo::fringe_sheet(screen)}}) + "\n";
}

std::string json_text(const LookBackReply& reply) {
  Json facets = Json::array();
  for (const LookBackFacet& facet : reply.facets) facets.push_back(look_back_facet_json(facet));
  return to_text(Json{{"view",
                       {{"pointed", reply.pointed},
                        {"residual_px", look_back_number(reply.residual_px, 1e3)}}},
                      {"facets", std::move(facets)},
                      {"read", spots_of(reply).size()},
                      {"notes", reply.notes}}) +
         "\n";
}

std::string look_back_request(std::string_view dish_text, const std::vector<RgbaPixels>& photos,
                              const photo::Screen& screen, const base::Vec3& camera_m,
                              const std::vector<PointedFacet>& pointed) {
  Json request{
      {"task", "look_back"},
      {"dish", std::string(dish_text)},
      {"screen",
       {{"width_mm", mm_from_m(screen.width_m)}, {"height_mm", mm_from_m(screen.height_m)}}},
      {"camera_mm", numbers(camera_m, 1000.0)},
      {"pointed", Json::array()},
      {"photos", Json::array()}};
  for (const PointedFacet& one : pointed) {
    request["pointed"].push_back(
        Json{{"facet", one.facet.text}, {"x_px", one.image_px.x}, {"y_px", one.image_px.y}});
  }
  for (const RgbaPixels& photo : photos) request["photos"].push_back(entry_of(photo));
  return with_pixels(request, photos);
}

base::Result<LookBackReply> read_look_back_reply(std::string_view reply) {
  return read_with<LookBackReply>(reply, [](const Json& json) {
    LookBackReply read{.pointed = json.at("view").at("pointed").get<std::size_t>(),
                       .residual_px = real(json.at("view"), "residual_px")};
    for (const Json& facet : json.at("facets")) read.facets.push_back(read_facet(facet));
    for (const Json& note : json.at("notes")) read.notes.push_back(note.get<std::string>());
    return read;
  });
}

}  // namespace tasks
