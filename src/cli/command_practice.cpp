// facetwright practice: how an alignment would go, played many times.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <thread>

#include "base/units.h"
#include "cli/commands.h"
#include "tasks/practice_task.h"
#include "tasks/trace_task.h"

namespace cli {
namespace {

constexpr double k_most_tilt_mrad = 100.0;

tasks::PracticeRequest practice_request(const Given& given, Collected& collected) {
  tasks::PracticeRequest request;
  practice::Settings& settings = request.settings;
  const Limits tilts{0.0, k_most_tilt_mrad};
  const auto start = collected.take(number_of(given, "--start-mrad", tilts));
  const auto between = collected.take(numbers_of(given, "--start-between", 2, tilts));
  if (start && between) {
    collected.add({"--start-mrad, --start-between", "both given", "one of the two"});
  }
  if (start) settings.errors.tilt_rad = base::rad_from_mrad(*start);
  if (between) {
    settings.errors.between_rad = {
        {base::rad_from_mrad((*between)[0]), base::rad_from_mrad((*between)[1])}};
  }
  request.scheme = collected.take(word_of(given, "--scheme", tasks::practice_schemes()))
                       .value_or(request.scheme);
  if (const auto groups = collected.take(whole_of(given, "--groups", 1, 1000))) {
    request.groups = static_cast<std::size_t>(*groups);
  }
  if (const auto before = collected.take(number_of(given, "--before-focus-mm", {1.0, 1e5}))) {
    request.before_focus_m = base::m_from_mm(*before);
  }
  if (const auto turns = collected.take(number_of(given, "--turn-sigma", {0.0, 1.0}))) {
    settings.hands.turn_sigma_turns = settings.correction.turn_sigma_turns = *turns;
  }
  if (const auto sigma = collected.take(number_of(given, "--spot-sigma-mm", {0.001, 100.0}))) {
    settings.camera.spot_sigma_m = base::m_from_mm(*sigma);
  }
  settings.rounds = static_cast<int>(
      collected.take(whole_of(given, "--rounds", 1, tasks::k_most_practice_rounds)).value_or(3));
  request.trials = static_cast<std::uint32_t>(
      collected.take(whole_of(given, "--trials", 1, tasks::k_most_practice_trials)).value_or(20));
  request.seed = collected.take(whole_of(given, "--seed", 0, ~0ULL)).value_or(request.seed);
  return request;
}

/// Trials in as many parts as there are workers; the parts joined do not depend on their number.
base::Result<tasks::PracticeReply> play_in_parts(const dish::Dish& dish,
                                                 const tasks::PracticeRequest& request,
                                                 unsigned workers, const base::Progress& progress) {
  const std::uint32_t parts = std::min<std::uint32_t>(workers, request.trials);
  std::vector<std::optional<base::Result<tasks::PracticeReply>>> replies(parts);
  std::vector<std::thread> threads;
  const auto play_part = [&](std::uint32_t part) {
    tasks::PracticeRequest share = request;
    const auto bound = [&](std::uint64_t k) {
      return static_cast<std::uint32_t>(k * request.trials / parts);
    };
    share.first_trial = request.first_trial + bound(part);
    share.trials = bound(part + 1) - bound(part);
    // The first part tells how far all are: they are alike.
    replies[part] = tasks::run(dish, share, part == 0 ? progress : base::Progress{});
  };
  for (std::uint32_t part = 1; part < parts; ++part) threads.emplace_back(play_part, part);
  play_part(0);
  for (std::thread& thread : threads) thread.join();
  std::vector<tasks::PracticeReply> done;
  for (auto& reply : replies) {
    if (!reply->ok()) return reply->problems();
    done.push_back(std::move(*reply).value());
  }
  return tasks::joined(done);
}

}  // namespace

std::vector<Option> practice_options() {
  return {
      {"--start-mrad", "S",
       "Tilt of each facet at the start, standard deviation per axis; default 3."},
      {"--start-between", "A,B", "Instead: tilts between A and B mrad in any direction."},
      {"--scheme", "NAME",
       fmt::format("How the spots are told apart: {}; default advised.",
                   fmt::join(tasks::practice_schemes(), ", "))},
      {"--groups", "N", "Photos of the first round, each with other facets uncovered."},
      {"--before-focus-mm", "D", "Where the board stands, for defocus."},
      {"--spot-sigma-mm", "S", "How well a spot is read, per axis; default 2."},
      {"--turn-sigma", "S", "How well a screw is turned, in turns; default 0.0833."},
      {"--rounds", "N",
       fmt::format("Rounds to play, 1 to {}; default 3.", tasks::k_most_practice_rounds)},
      {"--trials", "T",
       fmt::format("Sessions to play, 1 to {}; default 20.", tasks::k_most_practice_trials)},
      {"--seed", "S", "Which random errors are used, 0 to 2^64 - 1; default 1."},
      {"--workers", "N",
       "Threads, 1 to 256; default one for each core. The result does not depend on it."},
      json_option(),
      csv_option(),
      out_option(),
  };
}

int carry_out_practice(const Given& given, const Console& console) {
  Collected collected;
  const tasks::PracticeRequest request = practice_request(given, collected);
  const unsigned cores = std::clamp(std::thread::hardware_concurrency(), 1U,
                                    static_cast<unsigned>(tasks::k_most_workers));
  const auto workers = static_cast<unsigned>(
      collected.take(whole_of(given, "--workers", 1, tasks::k_most_workers)).value_or(cores));
  const Form form = collected.take(form_of(given), Form::report);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply =
      play_in_parts(dish.value(), request, workers, progress_of(console, "practising"));
  end_progress(console);
  if (!reply) return report(console, as_options(reply.problems(), practice_options()));
  if (form == Form::json) return deliver(console, given, tasks::json_text(reply.value()));
  return deliver(
      console, given,
      form == Form::csv ? tasks::csv_text(reply.value()) : tasks::report_text(reply.value()));
}

}  // namespace cli
