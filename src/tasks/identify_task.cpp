// Identification of spots, and its JSON.
#include "tasks/identify_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.h"
#include "tasks/align_task.h"
#include "tasks/codec.h"
#include "tasks/facets.h"
#include "tasks/json.h"
#include "tasks/sighting_settings.h"

namespace tasks {
namespace {

using base::mm_from_m;
using naming::Doubt;

constexpr double k_farthest_spot_mm = 1e5;
constexpr double k_most_prior_mrad = 100.0;
constexpr double k_board_margin = 1.2;

/// A square that holds all expected places and all spots, with a margin.
double area_of(const naming::IdentifyTarget& target, const std::vector<AskedPhoto>& photos) {
  double half = 1e-3;
  const auto include = [&](const base::Vec2& place) {
    if (!std::isfinite(place.x) || !std::isfinite(place.y)) return;
    half = std::max({half, std::abs(place.x), std::abs(place.y)});
  };
  for (const naming::Cell& cell : target.cells) include(cell.mark_m);
  for (const AskedPhoto& photo : photos) {
    for (const naming::BoardSpot& spot : photo.spots) include(spot.board_m);
  }
  return 4.0 * base::square(k_board_margin * half);
}

base::Result<std::vector<naming::BoardLook>> looks_of(const dish::Dish& dish,
                                                      const std::vector<AskedPhoto>& photos) {
  std::vector<naming::BoardLook> looks;
  base::Problems problems;
  for (std::size_t k = 0; k < photos.size(); ++k) {
    naming::BoardLook look{.spots = photos[k].spots};
    for (const dish::FacetId& id : photos[k].uncovered) {
      const std::size_t facet = dish::find_facet(dish, id);
      if (facet == dish::k_no_facet) {
        problems.push_back(unknown_facet(dish, id, fmt::format("photos[{}].uncovered", k)));
      } else {
        look.cells.push_back(facet);
      }
    }
    if (photos[k].uncovered.empty()) {
      for (std::size_t i = 0; i < dish.facets.size(); ++i) look.cells.push_back(i);
    }
    looks.push_back(std::move(look));
  }
  if (!problems.empty()) return problems;
  return looks;
}

Json finding_json(const IdentifyReply& reply, const naming::Finding& finding) {
  Json json{{"facet", reply.target.names[finding.cell]}, {"photo", finding.look + 1}};
  if (finding.doubt == Doubt::missing) {
    for (const char* key : {"right_mm", "up_mm", "sigma_mm"}) json[key] = nullptr;
  } else {
    const naming::BoardSpot& spot = reply.looks[finding.look].spots[finding.spot];
    json["right_mm"] = number(mm_from_m(spot.board_m.x));
    json["up_mm"] = number(mm_from_m(spot.board_m.y));
    json["sigma_mm"] = number(mm_from_m(spot.sigma_m));
  }
  json["odds"] = number(finding.odds);
  json["distance"] = number(std::sqrt(finding.distance2));
  json["flux_share"] = finding.flux_share > 0.0 ? number(finding.flux_share) : Json(nullptr);
  json["doubt"] = naming::to_text(finding.doubt);
  json["text"] = finding.sentence;
  return json;
}

naming::BoardSpot read_spot(Settings& row, double usual_sigma_m) {
  naming::BoardSpot spot{.sigma_m = usual_sigma_m};
  const auto right = row.number("right_mm", -k_farthest_spot_mm, k_farthest_spot_mm);
  const auto up = row.number("up_mm", -k_farthest_spot_mm, k_farthest_spot_mm);
  if (right && up) spot.board_m = {base::m_from_mm(*right), base::m_from_mm(*up)};
  if ((!right || !up) && row.problems().empty()) {
    row.add({"spot", "not whole", "right_mm and up_mm"});
  }
  if (const auto sigma = row.number("sigma_mm", 1e-3, 1e3)) spot.sigma_m = base::m_from_mm(*sigma);
  spot.flux = row.number("flux_share", 0.0, 1e12).value_or(0.0);
  const Json* flags = row.raw("flags");
  if (flags != nullptr && !flags->is_array()) row.add({"flags", "no list", "a list of words"});
  for (std::size_t k = 0; flags != nullptr && flags->is_array() && k < flags->size(); ++k) {
    spot.is_merged = spot.is_merged || (*flags)[k] == "merged";
  }
  return spot;
}

std::vector<AskedPhoto> read_photos(Settings& settings, double usual_sigma_m) {
  std::vector<AskedPhoto> photos;
  const Json* list = settings.raw("photos");
  if (list == nullptr || !list->is_array() || list->empty()) {
    settings.add({"request.photos", "none", "a list of photographs, at least one"});
    return photos;
  }
  for (std::size_t k = 0; k < list->size(); ++k) {
    const std::string place = fmt::format("request.photos[{}]", k);
    Settings own((*list)[k], place);
    AskedPhoto photo;
    const Json* uncovered = own.raw("uncovered");
    for (std::size_t i = 0; uncovered != nullptr && i < uncovered->size(); ++i) {
      if (uncovered->is_array() && (*uncovered)[i].is_string()) {
        photo.uncovered.push_back({(*uncovered)[i].get<std::string>()});
      } else {
        own.add({place + ".uncovered", "no list of names", "facets' names"});
        break;
      }
    }
    const Json* spots = own.raw("spots");
    if (spots == nullptr || !spots->is_array()) {
      own.add({place + ".spots", "no list", "a list of spots, perhaps empty"});
    }
    for (std::size_t s = 0; spots != nullptr && spots->is_array() && s < spots->size(); ++s) {
      Settings row((*spots)[s], fmt::format("{}.spots[{}]", place, s));
      photo.spots.push_back(read_spot(row, usual_sigma_m));
      own.add(row.finish());
    }
    settings.add(own.finish());
    photos.push_back(std::move(photo));
  }
  return photos;
}

}  // namespace

base::Result<IdentifyReply> run(const dish::Dish& dish, const IdentifyRequest& request,
                                const base::Progress& progress) {
  const align::Sighting sighting =
      align::sighting_of(dish, request.round, request.secondary_in_place);
  auto target = naming::target_of(dish, sighting, naming::priors_of(dish, request.start_rad));
  if (!target) return target.problems();
  auto looks = looks_of(dish, request.photos);
  if (!looks) return looks.problems();
  naming::IdentifySettings settings = request.settings;
  if (!request.has_area) settings.board_area_m2 = area_of(target.value(), request.photos);
  if (!request.crossings.empty() && looks.value().size() != 1) {
    return base::Problem{"photos", fmt::format("{}", looks.value().size()),
                         "one of the whole dish, with its film"};
  }
  auto found = request.crossings.empty()
                   ? naming::identify(target.value(), looks.value(), settings)
                   : naming::identify_by_film(target.value(), looks.value().front().spots,
                                              request.crossings);
  if (!found) return found.problems();
  IdentifyReply reply{.target = std::move(target).value(),
                      .looks = std::move(looks).value(),
                      .found = std::move(found).value()};
  reply.spots = naming::spots_of(dish, reply.target, reply.looks, reply.found, false);
  progress.tell(1.0);
  return reply;
}

std::string json_text(const IdentifyReply& reply) {
  Json facets = Json::array();
  std::size_t sure = 0;
  for (const naming::Finding& finding : reply.found.findings) {
    facets.push_back(finding_json(reply, finding));
    sure += finding.doubt == Doubt::none ? 1 : 0;
  }
  Json strangers = Json::array();
  for (const naming::SpotOfLook& spot : reply.found.false_spots) {
    const base::Vec2 at = reply.looks[spot.look].spots[spot.spot].board_m;
    strangers.push_back(Json{{"photo", spot.look + 1},
                             {"right_mm", number(mm_from_m(at.x))},
                             {"up_mm", number(mm_from_m(at.y))}});
  }
  const naming::CommonShift& common = reply.found.common;
  const Json json{{"facets", std::move(facets)},
                  {"false_spots", std::move(strangers)},
                  {"common",
                   {{"shift_mm", numbers(common.shift_m, 1000.0)},
                    {"radial_mm_per_m", number(mm_from_m(common.radial))},
                    {"doubt", common.is_shifted_cell},
                    {"text", common.sentence}}},
                  {"sure", sure},
                  {"doubtful", reply.found.findings.size() - sure}};
  return to_text(json) + "\n";
}

base::Result<std::string> answer_identify(const Call& call) {
  Settings& settings = call.settings;
  IdentifyRequest request;
  if (const auto name = settings.text("round")) {
    const auto logged = round_of_dish(call.dish, *name);
    if (!logged) settings.add(logged.problems());
    if (logged) request.round = logged.value();
  }
  if (const auto source = read_source(settings)) request.round.source = *source;
  if (const auto board = read_board(settings)) request.round.board = board;
  request.secondary_in_place = !settings.yes_or_no("without_secondary").value_or(false);
  if (const auto start = settings.number("start_mrad", 0.01, k_most_prior_mrad)) {
    request.start_rad = base::rad_from_mrad(*start);
  }
  naming::IdentifySettings& how = request.settings;
  how.false_spots = settings.number("false_spots", 1e-6, 1e3).value_or(how.false_spots);
  how.detection = 1.0 - settings.number("missed", 1e-6, 0.9).value_or(1.0 - how.detection);
  how.fits_common_shift = settings.yes_or_no("common_shift").value_or(true);
  if (const auto area = settings.number("board_area_m2", 1e-6, 1e6)) {
    how.board_area_m2 = *area;
    request.has_area = true;
  }
  const double sigma_mm = settings.number("spot_sigma_mm", 1e-3, 1e3).value_or(2.0);
  request.photos = read_photos(settings, base::m_from_mm(sigma_mm));
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
