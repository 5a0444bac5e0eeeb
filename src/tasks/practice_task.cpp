// Chooses the scheme, plays the trials, and lays the figures out.
#include "tasks/practice_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/closest.h"
#include "base/units.h"
#include "naming/covers.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;
using base::mrad_from_rad;
using naming::Scheme;

constexpr double k_percentile = 0.95;
constexpr double k_cell_share = 0.3;
constexpr const char* k_gray_covers = "gray-covers";
constexpr const char* k_half_open_covers = "half-open-covers";

/// The dish as it is drawn: whoever practises knows nothing of how it stands.
dish::Dish as_drawn(dish::Dish dish) {
  for (dish::Facet& facet : dish.facets) facet.displacement_m = {0.0, 0.0, 0.0};
  dish.rounds.clear();
  return dish;
}

double least_pitch_m(const dish::Dish& dish) {
  std::vector<base::Vec2> places;
  for (const dish::Facet& facet : dish.facets) {
    places.emplace_back(facet.centre_m.x, facet.centre_m.y);
  }
  return naming::lattice_of(places).pitch_m;
}

/// What the request leaves open is filled by the advice.
base::Result<PracticeReply> choose_scheme(const dish::Dish& dish, const PracticeRequest& request) {
  const auto known = practice_schemes();
  if (std::find(known.begin(), known.end(), request.scheme) == known.end()) {
    const auto near = base::closest(request.scheme, known);
    return base::Problem{
        "scheme", request.scheme,
        fmt::format("one of {}{}", fmt::join(known, ", "), near ? " (perhaps " + *near + ")" : "")};
  }
  const naming::SchemeSettings settings{.hole_m = request.settings.camera.hole_m,
                                        .spot_sigma_m = request.settings.camera.spot_sigma_m};
  const auto advice = naming::advise(dish, practice::prior_of(request.settings.errors), settings);
  if (!advice) return advice.problems();
  PracticeReply reply{.seed = request.seed};
  practice::PlayedScheme& scheme = reply.scheme;
  scheme.scheme = advice.value().scheme;
  if (request.scheme == "advised") reply.reason = advice.value().reason;
  if (request.scheme == "one-by-one") scheme.scheme = Scheme::one_by_one;
  if (request.scheme == "defocus") scheme.scheme = Scheme::defocus;
  if (request.scheme == "look-back") scheme.scheme = Scheme::look_back;
  if (request.scheme == k_gray_covers) scheme.code = naming::CoverCode::gray;
  if (request.scheme == k_half_open_covers) scheme.code = naming::CoverCode::half_open;
  if (scheme.code) scheme.scheme = Scheme::defocus;
  scheme.learns_gain = request.scheme == "tilt-array-learning";
  if (scheme.learns_gain || request.scheme == "tilt-array") scheme.scheme = Scheme::tilt_array;
  const bool is_defocus = scheme.scheme == Scheme::defocus;
  scheme.first_groups = request.groups.value_or(is_defocus ? advice.value().groups : 1);
  if (scheme.code && dish.facets.size() <= naming::k_most_coded) {
    scheme.first_groups = naming::cover_codes(dish.facets.size(), *scheme.code).photos;
  }
  scheme.before_focus_m =
      is_defocus ? request.before_focus_m.value_or(advice.value().board.before_focus_m) : 0.0;
  const double facet_pitch = least_pitch_m(dish);
  scheme.cell_pitch_m = request.cell_pitch_m.value_or(k_cell_share * facet_pitch);
  const auto board = naming::defocus_board(dish, scheme.before_focus_m, settings);
  if (!board) return board.problems();
  reply.board = board.value();
  if (scheme.scheme == Scheme::tilt_array && facet_pitch > 0.0) {
    double rim = 0.0;
    for (const dish::Facet& facet : dish.facets) {
      rim = std::max(rim, std::hypot(facet.centre_m.x, facet.centre_m.y));
    }
    reply.board.array_radius_m += rim * scheme.cell_pitch_m / facet_pitch;
    reply.board.half_width_m = reply.board.array_radius_m + reply.board.capture_m;
  }
  return reply;
}

/// Means over the sessions, and the percentile of what is left.
struct RoundMeans {
  double photos = 0.0, unseen = 0.0, wrong = 0.0, facets_turned = 0.0, turns = 0.0;
  double rms_rad = 0.0, rms_95_rad = 0.0, largest_rad = 0.0;
};

RoundMeans means_of(const std::vector<practice::Session>& sessions, std::size_t round) {
  RoundMeans means;
  std::vector<double> left;
  for (const practice::Session& session : sessions) {
    const practice::Round& played = session.rounds[round];
    means.photos += static_cast<double>(played.photos);
    means.unseen += static_cast<double>(played.unseen);
    means.wrong += static_cast<double>(played.wrong);
    means.facets_turned += static_cast<double>(played.facets_turned);
    means.turns += played.turns;
    means.rms_rad += played.rms_rad * played.rms_rad;
    means.largest_rad += played.largest_rad;
    left.push_back(played.rms_rad);
  }
  const auto count = static_cast<double>(sessions.size());
  for (double* each : {&means.photos, &means.unseen, &means.wrong, &means.facets_turned,
                       &means.turns, &means.rms_rad, &means.largest_rad}) {
    *each /= count;
  }
  means.rms_rad = std::sqrt(means.rms_rad);
  std::sort(left.begin(), left.end());
  means.rms_95_rad = left[static_cast<std::size_t>(std::lround(k_percentile * (count - 1.0)))];
  return means;
}

double start_rms_rad(const PracticeReply& reply) {
  double squares = 0.0;
  for (const practice::Session& session : reply.sessions) {
    squares += session.start_rms_rad * session.start_rms_rad;
  }
  return std::sqrt(squares / static_cast<double>(reply.sessions.size()));
}

std::string name_of(const practice::PlayedScheme& scheme) {
  if (scheme.code)
    return *scheme.code == naming::CoverCode::gray ? k_gray_covers : k_half_open_covers;
  return std::string(naming::to_text(scheme.scheme)) + (scheme.learns_gain ? "-learning" : "");
}

Lines practice_figures(const PracticeReply& reply) {
  Lines lines;
  lines.add("scheme", name_of(reply.scheme));
  if (reply.scheme.scheme == Scheme::defocus) {
    lines.add("board", fmt::format("{} mm inside the focus, {} mm square",
                                   fixed(mm_from_m(reply.board.before_focus_m), 0),
                                   fixed(2.0 * mm_from_m(reply.board.half_width_m), 0)));
    lines.add("first round",
              fmt::format("{} photo{} with other facets uncovered", reply.scheme.first_groups,
                          reply.scheme.first_groups == 1 ? "" : "s"));
  }
  lines.add("played", fmt::format("{} times, seed {}", reply.sessions.size(), reply.seed));
  lines.add("tilt at the start", fixed(mrad_from_rad(start_rms_rad(reply)), 2) + " mrad rms");
  return lines;
}

Table rounds_table(const PracticeReply& reply) {
  Table table{.columns = {{"round"},
                          {"photos"},
                          {"unseen"},
                          {"wrong"},
                          {"facets turned"},
                          {"turns"},
                          {"left mrad rms"},
                          {"95 % below"},
                          {"worst facet"}}};
  for (std::size_t k = 0; k < reply.sessions.front().rounds.size(); ++k) {
    const RoundMeans means = means_of(reply.sessions, k);
    table.rows.push_back({fmt::format("{}", k + 1), fixed(means.photos, 1), fixed(means.unseen, 2),
                          fixed(means.wrong, 3), fixed(means.facets_turned, 1),
                          fixed(means.turns, 1), fixed(mrad_from_rad(means.rms_rad), 2),
                          fixed(mrad_from_rad(means.rms_95_rad), 2),
                          fixed(mrad_from_rad(means.largest_rad), 2)});
  }
  return table;
}

}  // namespace

std::vector<std::string> practice_schemes() {
  return {"advised",    "one-by-one",          "defocus",  k_gray_covers, k_half_open_covers,
          "tilt-array", "tilt-array-learning", "look-back"};
}

base::Result<PracticeReply> run(const dish::Dish& dish, const PracticeRequest& request,
                                const base::Progress& progress) {
  const dish::Dish drawn = as_drawn(dish);
  auto chosen = choose_scheme(drawn, request);
  if (!chosen) return chosen.problems();
  PracticeReply reply = std::move(chosen).value();
  practice::Settings settings = request.settings;
  settings.scheme = reply.scheme;
  settings.camera.board_half_width_m = reply.board.half_width_m;
  settings.identify.board_area_m2 = 4.0 * base::square(reply.board.half_width_m);
  const auto stage = practice::set_stage(drawn, settings);
  if (!stage) return stage.problems();
  for (std::uint32_t k = 0; k < request.trials; ++k) {
    if (progress.cancelled()) return base::Problem{"practice", "cancelled", "to run to its end"};
    reply.sessions.push_back(practice::play(stage.value(), request.seed, request.first_trial + k));
    progress.tell((k + 1.0) / request.trials);
  }
  return reply;
}

PracticeReply joined(const std::vector<PracticeReply>& parts) {
  PracticeReply whole = parts.front();
  for (std::size_t k = 1; k < parts.size(); ++k) {
    whole.sessions.insert(whole.sessions.end(), parts[k].sessions.begin(), parts[k].sessions.end());
  }
  return whole;
}

std::string json_text(const PracticeReply& reply) {
  Json rounds = Json::array();
  for (std::size_t k = 0; k < reply.sessions.front().rounds.size(); ++k) {
    const RoundMeans means = means_of(reply.sessions, k);
    rounds.push_back(Json{{"round", k + 1},
                          {"photos", number(means.photos)},
                          {"unseen", number(means.unseen)},
                          {"wrong", number(means.wrong)},
                          {"facets_turned", number(means.facets_turned)},
                          {"turns", number(means.turns)},
                          {"rms_mrad", number(mrad_from_rad(means.rms_rad))},
                          {"rms_95_mrad", number(mrad_from_rad(means.rms_95_rad))},
                          {"largest_mrad", number(mrad_from_rad(means.largest_rad))}});
  }
  const Json json{{"scheme", name_of(reply.scheme)},
                  {"before_focus_mm", number(mm_from_m(reply.board.before_focus_m))},
                  {"board_mm", number(2.0 * mm_from_m(reply.board.half_width_m))},
                  {"shaded_facets", reply.board.shaded},
                  {"groups", reply.scheme.first_groups},
                  {"reason", reply.reason},
                  {"trials", reply.sessions.size()},
                  {"seed", reply.seed},
                  {"start_mrad", number(mrad_from_rad(start_rms_rad(reply)))},
                  {"rounds", std::move(rounds)}};
  return to_text(json) + "\n";
}

std::string report_text(const PracticeReply& reply) {
  std::string text = to_text(practice_figures(reply)) + "\n" + to_text(rounds_table(reply));
  text +=
      "\nMeans of all sessions. Unseen: facets without a spot. Wrong: facets that were turned by "
      "another\nfacet's spot. Friction, backlash and a shifting frame are not played; they come on "
      "top.\n";
  if (!reply.reason.empty()) text += "\n" + reply.reason + "\n";
  return text;
}

std::string csv_text(const PracticeReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t s = 0; s < reply.sessions.size(); ++s) {
    for (std::size_t k = 0; k < reply.sessions[s].rounds.size(); ++k) {
      const practice::Round& played = reply.sessions[s].rounds[k];
      rows.push_back({fmt::format("{}", s + 1), fmt::format("{}", k + 1),
                      fmt::format("{}", played.photos), fmt::format("{}", played.unseen),
                      fmt::format("{}", played.wrong), fmt::format("{}", played.facets_turned),
                      exact(played.turns), exact(mrad_from_rad(played.rms_rad)),
                      exact(mrad_from_rad(played.largest_rad))});
    }
  }
  return to_csv({"session", "round", "photos", "unseen", "wrong", "facets_turned", "turns",
                 "rms_mrad", "largest_mrad"},
                rows);
}

}  // namespace tasks
