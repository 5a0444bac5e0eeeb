// Reads a practice request's settings.
#include "base/units.h"
#include "tasks/codec.h"
#include "tasks/practice_task.h"

namespace tasks {
namespace {

constexpr double k_most_start_mrad = 100.0;
constexpr double k_most_practice_mm = 1e5;

void read_errors(Settings& settings, practice::HiddenErrors& errors) {
  const auto start = settings.number("start_mrad", 0.0, k_most_start_mrad);
  const auto between = settings.pair("start_between_mrad", 0.0, k_most_start_mrad);
  if (start && between) {
    settings.add({"request.start_mrad, start_between_mrad", "both given", "one of the two"});
  }
  if (start) errors.tilt_rad = base::rad_from_mrad(*start);
  if (between) {
    errors.between_rad = {{base::rad_from_mrad(between->x), base::rad_from_mrad(between->y)}};
  }
  errors.gain = settings.number("gain_sigma", 0.0, 0.5).value_or(errors.gain);
  errors.swapped_labels = settings.number("swapped_labels", 0.0, 1.0).value_or(0.0);
}

}  // namespace

base::Result<std::string> answer_practice(const Call& call) {
  Settings& settings = call.settings;
  PracticeRequest request;
  if (const auto word = settings.word("scheme", practice_schemes())) request.scheme = *word;
  if (const auto groups = settings.whole("groups", 1, 1000)) request.groups = *groups;
  if (const auto before = settings.number("before_focus_mm", 1.0, k_most_practice_mm)) {
    request.before_focus_m = base::m_from_mm(*before);
  }
  if (const auto pitch = settings.number("cell_pitch_mm", 1.0, k_most_practice_mm)) {
    request.cell_pitch_m = base::m_from_mm(*pitch);
  }
  read_errors(settings, request.settings.errors);
  practice::Settings& practice = request.settings;
  if (const auto turns = settings.number("turn_sigma_turns", 0.0, 1.0)) {
    practice.hands.turn_sigma_turns = practice.correction.turn_sigma_turns = *turns;
  }
  if (const auto sigma = settings.number("spot_sigma_mm", 0.001, 100.0)) {
    practice.camera.spot_sigma_m = base::m_from_mm(*sigma);
  }
  practice.camera.missed = settings.number("missed", 0.0, 0.9).value_or(practice.camera.missed);
  practice.camera.false_spots =
      settings.number("false_spots", 0.0, 20.0).value_or(practice.camera.false_spots);
  practice.checks_doubts = settings.yes_or_no("checks").value_or(true);
  if (const auto rounds = settings.whole("rounds", 1, k_most_practice_rounds)) {
    practice.rounds = static_cast<int>(*rounds);
  }
  if (const auto trials = settings.whole("trials", 1, k_most_practice_trials)) {
    request.trials = static_cast<std::uint32_t>(*trials);
  }
  if (const auto seed = settings.whole("seed", 0, ~std::uint64_t{0})) request.seed = *seed;
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
