// Weighs hypotheses by the likelihood of all looks.
#include "align/labels.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/elementary.h"
#include "base/units.h"

namespace align {
namespace {

/// Columns that differ by less than this share cannot be told apart within any gain's spread.
constexpr double k_same_response = 0.02;

std::string label(const dish::Mount& mount, std::size_t k) { return mount.adjusters[k].label; }

void add_orders(std::vector<Hypothesis>& list, const dish::Mount& mount, int sense) {
  const auto pair = [&](std::size_t i, std::size_t k) {
    return fmt::format("screws {} and {} are interchanged", label(mount, i), label(mount, k));
  };
  const std::string opposite = sense < 0 ? ", and all turn the opposite way" : "";
  const std::string hand =
      sense < 0 ? " Check which hand the threads have and from which side they were turned." : "";
  const auto add = [&](const std::array<std::size_t, 3>& moves, const std::string& words) {
    list.push_back({.wiring = {.moves = moves, .sense = {sense, sense, sense}},
                    .words = words + opposite,
                    .advice = "Number the screws again as the drawing shows them, seen from the "
                              "side you stand on." +
                              hand});
  };
  if (sense < 0) {
    list.push_back({.wiring = {.sense = {-1, -1, -1}},
                    .words = "all screws turn the opposite way",
                    .advice = "Check the threads' hand in the mount, and from which side the "
                              "screws are turned."});
  }
  add({1, 0, 2}, pair(0, 1));
  add({2, 1, 0}, pair(0, 2));
  add({0, 2, 1}, pair(1, 2));
  add({1, 2, 0}, fmt::format("the numbers are on by one place ({} is where {} should be)",
                             label(mount, 0), label(mount, 1)));
  add({2, 0, 1}, fmt::format("the numbers are back by one place ({} is where {} should be)",
                             label(mount, 0), label(mount, 2)));
}

void add_frames(std::vector<Hypothesis>& list) {
  for (const int degrees : {30, -30, 45, -45, 60, -60, 90, -90, 120, -120, 180}) {
    list.push_back(
        {.wiring = {.frame_turn_rad = base::rad_from_deg(degrees)},
         .words = fmt::format("the screws stand turned by {} degrees {} against the drawing",
                              std::abs(degrees), degrees > 0 ? "anticlockwise" : "clockwise"),
         .advice = "Turn the drawing, or correct the screws' places or the clocking in the file."});
  }
  list.push_back({.wiring = {.frame_mirrored = true},
                  .words = "the drawing is read from the wrong side, left for right",
                  .advice = "Use the drawing as seen from the side you stand on."});
  list.push_back(
      {.wiring = {.frame_turn_rad = base::rad_from_deg(180.0), .frame_mirrored = true},
       .words = "the drawing is read mirrored, top for bottom",
       .advice = "Use the drawing as seen from the side you stand on, the right way up."});
}

void add_leads(std::vector<Hypothesis>& list, const dish::Mount& mount) {
  const double pitch_m = mount.adjusters[0].pitch_m;
  for (const dish::Adjuster& adjuster : mount.adjusters) {
    if (adjuster.pitch_m != pitch_m) return;  // no single thread to be wrong about
  }
  std::vector<double> told;
  for (const MetricThread& thread : metric_threads()) {
    const double factor = thread.pitch_m / pitch_m;
    const bool is_own = std::abs(factor - 1.0) < k_same_response;
    if (is_own || std::find(told.begin(), told.end(), factor) != told.end()) continue;
    told.push_back(factor);
    list.push_back({.wiring = {.lead_factor = factor},
                    .words = fmt::format("the thread's lead is {:.3g} mm (as {}), not {:.3g} mm",
                                         base::mm_from_m(thread.pitch_m), thread.name,
                                         base::mm_from_m(pitch_m)),
                    .advice = "Measure the thread and correct the pitch of the mount."});
  }
}

/// Shares from log likelihoods and priors, without overflow.
void weigh(LabelVerdict& verdict, const std::vector<double>& log_likelihoods) {
  const std::size_t count = log_likelihoods.size();
  std::vector<double> logs(count);
  for (std::size_t h = 0; h < count; ++h) {
    const double prior =
        h == 0 ? k_prior_right : (1.0 - k_prior_right) / static_cast<double>(count - 1);
    logs[h] = log_likelihoods[h] + base::log_positive(prior);
  }
  verdict.best =
      static_cast<std::size_t>(std::max_element(logs.begin(), logs.end()) - logs.begin());
  double sum = 0.0;
  for (const double log : logs) {
    verdict.share.push_back(base::exp_of(std::max(log - logs[verdict.best], -700.0)));
    sum += verdict.share.back();
  }
  for (double& share : verdict.share) share /= sum;
  double rival = logs[0];
  if (verdict.best == 0) {
    rival = *std::max_element(logs.begin() + 1, logs.end());
  }
  verdict.odds = base::exp_of(std::min(logs[verdict.best] - rival, 700.0));
  verdict.warn = verdict.share[0] < k_warn;
  verdict.act = verdict.best != 0 && verdict.share[verdict.best] > k_act;
}

std::string odds_text(double odds) {
  if (odds >= 1e6) return "more than a million to 1";
  // Two digits are all that such odds deserve.
  const double digits = std::floor(std::log10(std::max(odds, 1.0)));
  const double unit = std::pow(10.0, std::max(0.0, digits - 1.0));
  return fmt::format("{:.0f} to 1", std::round(odds / unit) * unit);
}

void say(LabelVerdict& verdict, const std::string& whose) {
  if (!verdict.warn) return;
  const Hypothesis& best = verdict.hypotheses[verdict.best];
  if (verdict.act) {
    verdict.sentence =
        fmt::format("{}: {}, {}. {}", whose, best.words, odds_text(verdict.odds), best.advice);
    return;
  }
  verdict.sentence = fmt::format(
      "{}: the spots do not move as the numbers, threads and sides in the file say ({} against "
      "it), but it is not clear yet how. Most likely {}. Turn one screw alone by half a turn and "
      "look again.",
      whose, odds_text((1.0 - verdict.share[0]) / std::max(verdict.share[0], 1e-300)), best.words);
}

/// How far a history's responses under two wirings are apart, relative to their size.
double distance_of(const std::vector<Response>& a, const std::vector<Response>& b) {
  double off = 0.0;
  double size = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      off += glm::dot(a[i][k] - b[i][k], a[i][k] - b[i][k]);
      size += glm::dot(a[i][k], a[i][k]);
    }
  }
  return size > 0.0 ? std::sqrt(off / size) : 0.0;
}

bool moves_frame(const Wiring& wiring) {
  return wiring.frame_turn_rad != 0.0 || wiring.frame_mirrored;
}

/// Responses of every move of a history under a wiring.
std::optional<std::vector<Response>> responses_under(const FacetHistory& history,
                                                     const Wiring& wiring, const FacetSetup& setup,
                                                     const Sighting& sighting) {
  std::vector<Response> responses;
  for (const Move& move : history.moves) {
    if (!moves_frame(wiring)) {
      Response response = rewired(move.nominal, wiring);
      for (base::Vec2& column : response) column *= wiring.lead_factor;
      responses.push_back(response);
      continue;
    }
    const auto there = response_of(setup, sighting, move.half_way_m, wiring);
    if (!there) return std::nullopt;
    responses.push_back(there.value());
  }
  return responses;
}

std::vector<Turns> turns_of(const FacetHistory& history) {
  std::vector<Turns> turns;
  for (const Move& move : history.moves) turns.push_back(move.done);
  return turns;
}

/// What pooling looks at.
struct Fleet {
  const dish::Dish& dish;
  const std::vector<FacetHistory>& histories;
  const dish::Mount& mount;
  const Sighting& sighting;
  const LearningRequest& request;
};

struct FleetResponses {
  std::vector<std::vector<Response>> of_facet;  ///< of each move
  double log_likelihood = 0.0;
};

/// All facets of the mount under one wiring; nothing when one of them cannot be, or there is none.
std::optional<FleetResponses> responses_of(const Fleet& fleet, const Wiring& wiring) {
  FleetResponses found;
  for (const FacetHistory& history : fleet.histories) {
    const auto setup = set_up(fleet.dish, fleet.dish.facets[history.facet]);
    if (!setup || setup.value().mount->name != fleet.mount.name) continue;
    auto responses = responses_under(history, wiring, setup.value(), fleet.sighting);
    if (!responses) return std::nullopt;
    found.log_likelihood += log_likelihood(history, *responses, turns_of(history), fleet.request);
    found.of_facet.push_back(*std::move(responses));
  }
  if (found.of_facet.empty()) return std::nullopt;
  return found;
}

/// The known one that nearly does the same on every facet.
std::optional<std::size_t> twin_of(const FleetResponses& one,
                                   const std::vector<FleetResponses>& known) {
  for (std::size_t h = 0; h < known.size(); ++h) {
    double worst = 0.0;
    for (std::size_t i = 0; i < one.of_facet.size(); ++i) {
      worst = std::max(worst, distance_of(known[h].of_facet[i], one.of_facet[i]));
    }
    if (worst < k_same_response) return h;
  }
  return std::nullopt;
}

}  // namespace

const std::vector<MetricThread>& metric_threads() {
  static const std::vector<MetricThread> threads{
      {"M3", 0.0005},     {"M4", 0.0007},       {"M5", 0.0008},       {"M6", 0.001},
      {"M8", 0.00125},    {"M10", 0.0015},      {"M12", 0.00175},     {"M4x0.5", 0.0005},
      {"M5x0.5", 0.0005}, {"M6x0.75", 0.00075}, {"M8x1", 0.001},      {"M10x1.25", 0.00125},
      {"M10x1", 0.001},   {"M12x1.5", 0.0015},  {"M12x1.25", 0.00125}};
  return threads;
}

std::vector<Hypothesis> facet_hypotheses(const dish::Mount& mount) {
  std::vector<Hypothesis> list{{.wiring = {}, .words = "the file is right", .advice = ""}};
  add_orders(list, mount, 1);
  add_orders(list, mount, -1);
  for (std::size_t k = 0; k < 3; ++k) {
    Wiring wiring;
    wiring.sense[k] = -1;
    list.push_back({.wiring = wiring,
                    .words = fmt::format("screw {} turns the opposite way", label(mount, k)),
                    .advice = fmt::format("Check the thread's hand of screw {} and from which side "
                                          "it is turned.",
                                          label(mount, k))});
  }
  return list;
}

std::vector<Hypothesis> fleet_hypotheses(const dish::Mount& mount) {
  std::vector<Hypothesis> list = facet_hypotheses(mount);
  add_frames(list);
  add_leads(list, mount);
  return list;
}

double log_likelihood(const FacetHistory& history, const std::vector<Response>& responses,
                      const std::vector<Turns>& turns, const LearningRequest& request) {
  const Look& first = history.looks.front();
  ScrewFilter filter = start_filter(first.seen_m, first.sigma_m, request.prior);
  for (std::size_t i = 0; i < history.moves.size(); ++i) {
    turn_screws(filter, responses[i], turns[i], request.turn_sigma_turns);
    look_again(filter, history.looks[i + 1].seen_m, history.looks[i + 1].sigma_m);
  }
  return filter.log_likelihood;
}

LabelVerdict judge_facet(const dish::Dish& dish, const FacetHistory& history,
                         const LearningRequest& request) {
  const dish::Facet& facet = dish.facets[history.facet];
  LabelVerdict verdict{.mount = facet.mount,
                       .hypotheses = facet_hypotheses(*dish::find_mount(dish, facet.mount))};
  std::vector<double> logs;
  for (const Hypothesis& hypothesis : verdict.hypotheses) {
    std::vector<Response> responses;
    for (const Move& move : history.moves) {
      responses.push_back(rewired(move.nominal, hypothesis.wiring));
    }
    logs.push_back(log_likelihood(history, responses, turns_of(history), request));
  }
  weigh(verdict, logs);
  say(verdict, "Facet " + facet.id.text);
  return verdict;
}

LabelVerdict judge_fleet(const dish::Dish& dish, const std::vector<FacetHistory>& histories,
                         const dish::Mount& mount, const Sighting& sighting,
                         const LearningRequest& request) {
  LabelVerdict verdict{.mount = mount.name};
  const Fleet fleet{dish, histories, mount, sighting, request};
  std::vector<FleetResponses> known;
  std::vector<double> logs;
  for (const Hypothesis& hypothesis : fleet_hypotheses(mount)) {
    auto found = responses_of(fleet, hypothesis.wiring);
    if (!found) continue;
    if (const auto twin = twin_of(*found, known)) {
      if (*twin != 0) verdict.hypotheses[*twin].words += ", or " + hypothesis.words;
      continue;
    }
    verdict.hypotheses.push_back(hypothesis);
    logs.push_back(found->log_likelihood);
    known.push_back(*std::move(found));
  }
  if (logs.size() < 2) return verdict;
  weigh(verdict, logs);
  say(verdict, fmt::format("All facets on mount {}", mount.name.text));
  return verdict;
}

}  // namespace align
