// Makes the plan of a round, and refuses spots that cannot be used.
#include "tasks/align_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "base/closest.h"
#include "files/spots.h"

namespace tasks {
namespace {

using align::Mode;
using align::Piston;

struct KeepWord {
  const char* word;
  Piston piston;
};
constexpr std::array<KeepWord, 6> k_keep_words{{{"height", Piston::keep_height},
                                                {"least-turns", Piston::fewest_turns},
                                                {"tighten-only", Piston::tighten_only},
                                                {"least-most", Piston::least_largest_turn},
                                                {"least-squares", Piston::least_squares},
                                                {"mid-range", Piston::mid_range}}};

struct LeaveOutWord {
  const char* word;
  std::array<Mode, 2> modes;  ///< both the same when there is only one
};
constexpr std::array<LeaveOutWord, 4> k_leave_out_words{
    {{"boresight", {Mode::shift_x, Mode::shift_y}},
     {"focus", {Mode::radial, Mode::radial}},
     {"clocking", {Mode::swirl, Mode::swirl}},
     {"bend", {Mode::saddle, Mode::saddle_45}}}};

/// A screw can only be held where some mount has one of its label.
base::Problems problems_of_keep(const dish::Dish& dish, const align::PlanRequest& plan) {
  if (plan.piston != Piston::hold_screw) return {};
  std::vector<std::string> known = keep_words();
  for (const dish::Mount& mount : dish.mounts) {
    for (const dish::Adjuster& adjuster : mount.adjusters) {
      if (adjuster.label == plan.held_screw) return {};
      if (std::find(known.begin(), known.end(), adjuster.label) == known.end()) {
        known.push_back(adjuster.label);
      }
    }
  }
  const auto near = base::closest(plan.held_screw, known);
  std::string expected = fmt::format("one of {}", fmt::join(keep_words(), ", "));
  expected += ", or a screw's label";
  if (near) expected += fmt::format(" (perhaps {})", *near);
  return {
      {"keep", fmt::format("no convention and no screw is called {}", plan.held_screw), expected}};
}

}  // namespace

base::Result<AlignReply> run(const dish::Dish& dish, const AlignRequest& request,
                             const base::Progress& progress) {
  if (const base::Problems problems = problems_of_keep(dish, request.plan); !problems.empty()) {
    return problems;
  }
  auto plan = align::make_plan(dish, request.round, request.plan);
  if (!plan) return plan.problems();
  const bool none_left = plan.value().facets.empty();
  if (!plan.value().problems.empty() && (!request.skip_unusable || none_left)) {
    return plan.value().problems;
  }
  progress.tell(1.0);
  return AlignReply{.plan = std::move(plan).value(), .request = request};
}

bool is_centroid_by_default(const dish::Source& source) {
  return std::holds_alternative<dish::SunSource>(source);
}

std::vector<std::string> keep_words() {
  std::vector<std::string> words;
  for (const KeepWord& entry : k_keep_words) words.emplace_back(entry.word);
  return words;
}

Keep keep_of(const std::string& word) {
  for (const KeepWord& entry : k_keep_words) {
    if (word == entry.word) return {.piston = entry.piston, .held_screw = {}};
  }
  return {.piston = Piston::hold_screw, .held_screw = word};
}

std::string keep_word(const align::PlanRequest& plan) {
  for (const KeepWord& entry : k_keep_words) {
    if (plan.piston == entry.piston) return entry.word;
  }
  return plan.held_screw;
}

std::vector<std::string> leave_out_words() {
  std::vector<std::string> words;
  for (const LeaveOutWord& entry : k_leave_out_words) words.emplace_back(entry.word);
  return words;
}

bool leave_out(const std::string& word, align::PlanRequest& plan) {
  for (const LeaveOutWord& entry : k_leave_out_words) {
    if (word != entry.word) continue;
    for (const Mode mode : entry.modes) plan.left_out[static_cast<std::size_t>(mode)] = true;
    return true;
  }
  return false;
}

base::Problems straighten(dish::Board& board, const std::string& place) {
  constexpr double k_shortest = 1e-9;
  constexpr double k_least_sine = 1e-6;
  const double normal = glm::length(board.lit_normal);
  const double up = glm::length(board.up);
  if (normal < k_shortest)
    return {{place, "its lit side faces nowhere", "a normal, such as 0,0,-1"}};
  const double across = glm::length(glm::cross(board.lit_normal, board.up));
  if (up < k_shortest || across < k_least_sine * normal * up) {
    return {{place, "its up has no length or runs along its normal", "an up across the normal"}};
  }
  board.lit_normal /= normal;
  board.up /= up;
  return {};
}

base::Result<SpotsOfFile> spots_of_file(const dish::Dish& dish, std::string_view bytes,
                                        const std::string& file_name) {
  const auto read = files::read_spots(bytes, file_name);
  if (!read) return read.problems();
  const base::Problems strangers = files::match_spots(read.value().rows, dish, file_name);
  if (!strangers.empty()) return strangers;
  if (read.value().rows.empty()) {
    return base::Problem{file_name, "no spots", "at least one row below the header"};
  }
  return SpotsOfFile{.spots = files::to_spots(read.value().rows), .notes = read.value().notes};
}

base::Result<dish::Round> round_of_dish(const dish::Dish& dish, const std::string& name) {
  if (dish.rounds.empty()) {
    return base::Problem{"round", "the dish holds no rounds",
                         "a spots file, or a dish with rounds"};
  }
  if (name == "last") return dish.rounds.back();
  std::vector<std::string> names;
  for (const dish::Round& round : dish.rounds) {
    if (round.name == name) return round;
    names.push_back(round.name);
  }
  return base::Problem{"round", fmt::format("there is no round {}", name),
                       fmt::format("last, {}", fmt::join(names, ", "))};
}

}  // namespace tasks
