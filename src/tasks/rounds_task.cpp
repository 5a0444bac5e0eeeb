// Merges, takes back, then tells the story of what is left.
#include "tasks/rounds_task.h"

#include <fmt/format.h>

#include <utility>

#include "align/put_right.h"
#include "base/units.h"
#include "dish/edit.h"
#include "dish/merge.h"
#include "files/dish_read.h"
#include "files/dish_write.h"
#include "tasks/codec.h"
#include "tasks/json.h"

namespace tasks {
namespace {

/// The dish without what merging takes care of, for comparing everything else.
dish::Dish without_log(dish::Dish dish) {
  dish.rounds.clear();
  for (dish::Facet& facet : dish.facets) facet.displacement_m = {0.0, 0.0, 0.0};
  std::vector<dish::UnknownKey> rest;
  for (const dish::UnknownKey& key : dish.unknown) {
    if (!dish::round_of_key(key)) rest.push_back(key);
  }
  dish.unknown = std::move(rest);
  return dish;
}

/// Parts of the two files, outside the log, that differ.
void name_differences(const dish::Dish& mine, const dish::Dish& other,
                      std::vector<std::string>& conflicts) {
  const Json ours = Json::parse(files::write_dish(without_log(mine)));
  const Json theirs = Json::parse(files::write_dish(without_log(other)));
  if (ours == theirs) return;
  std::vector<std::string> parts;
  for (const auto& member : ours.items()) {
    const auto found = theirs.find(member.key());
    if (found == theirs.end() || *found != member.value()) parts.push_back(member.key());
  }
  for (const auto& member : theirs.items()) {
    if (!ours.contains(member.key())) parts.push_back(member.key());
  }
  conflicts.push_back(fmt::format(
      "The files differ in more than rounds: {}. The first file's are kept; its screws and places "
      "are what the rounds are reckoned with.",
      fmt::join(parts, ", ")));
}

base::Problems merge_in(RoundsReply& reply, const dish::Dish& other) {
  auto merged = dish::merge_rounds(reply.dish, other);
  if (!merged) return merged.problems();
  reply.notes = merged.value().notes;
  reply.conflicts = merged.value().conflicts;
  name_differences(reply.dish, other, reply.conflicts);
  reply.dish = std::move(merged).value().dish;
  reply.changed = true;
  return {};
}

base::Problems take_back(RoundsReply& reply) {
  const auto wish = align::take_back_last(reply.dish);
  if (!wish) return wish.problems();
  reply.taken_back = reply.dish.rounds.back().name;
  auto shorter = dish::apply(std::move(reply.dish), wish.value());
  if (!shorter) return shorter.problems();
  reply.dish = std::move(shorter).value();
  reply.changed = true;
  return {};
}

/// Another dish file in the request, as an object or as a text.
std::optional<dish::Dish> read_other(Settings& settings) {
  const Json* given = settings.raw("merge");
  if (given == nullptr) return std::nullopt;
  const std::string text = given->is_string() ? given->get<std::string>() : to_dense_text(*given);
  auto read = files::read_dish(text, "request.merge");
  if (!read) {
    settings.add(read.problems());
    return std::nullopt;
  }
  return std::move(read).value().dish;
}

}  // namespace

base::Result<RoundsReply> run(const dish::Dish& dish, const RoundsRequest& request,
                              const base::Progress& progress) {
  RoundsReply reply{.dish = dish};
  if (request.merge) {
    const base::Problems problems = merge_in(reply, *request.merge);
    if (!problems.empty()) return problems;
  }
  if (request.undo_last) {
    const base::Problems problems = take_back(reply);
    if (!problems.empty()) return problems;
  }
  if (reply.dish.rounds.empty() && reply.changed) return reply;
  auto story = align::tell_rounds(reply.dish, request.story);
  if (!story) return story.problems();
  reply.story = std::move(story).value();
  progress.tell(1.0);
  return reply;
}

base::Result<std::string> answer_rounds(const Call& call) {
  Settings& settings = call.settings;
  RoundsRequest request{.merge = read_other(settings)};
  request.undo_last = settings.yes_or_no("undo_last").value_or(false);
  request.story.watts = settings.yes_or_no("watts").value_or(true);
  align::PlanRequest& plan = request.story.plan;
  plan.spot_sigma_m = base::m_from_mm(
      settings.number("spot_sigma_mm", 0.001, 5000.0).value_or(base::mm_from_m(plan.spot_sigma_m)));
  plan.turn_sigma_turns =
      settings.number("turn_sigma_turns", 0.0, 1.0).value_or(plan.turn_sigma_turns);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
