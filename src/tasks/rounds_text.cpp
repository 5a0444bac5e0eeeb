// Lays the story of the rounds out as JSON and as a report.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "files/dish_write.h"
#include "tasks/align_task.h"
#include "tasks/json.h"
#include "tasks/rounds_task.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mrad_from_rad;

Json round_json(const align::RoundInStory& round) {
  Json facets = Json::array();
  for (const align::FacetInRound& facet : round.facets) {
    facets.push_back(
        Json{{"id", facet.id.text},
             {"spot_error_mm", numbers(facet.seen_error_m, 1000.0)},
             {"expected_mm",
              facet.expected_error_m ? numbers(*facet.expected_error_m, 1000.0) : Json(nullptr)},
             {"tilt_mrad", number(mrad_from_rad(facet.tilt_rad))},
             {"turned", facet.turned},
             {"verdict", verdict_word(facet.verdict)},
             {"doubt", facet.doubt}});
  }
  return Json{{"name", round.name},
              {"spots", round.seen},
              {"facets_turned", round.turned},
              {"turns", number(round.turns)},
              {"rms_tilt_mrad", number(mrad_from_rad(round.rms_tilt_rad))},
              {"expected_next_mrad", number(mrad_from_rad(round.expected_next_rad))},
              {"problem", round.problem},
              {"facets", std::move(facets)}};
}

Json watts_json(const std::optional<double>& watts) { return watts ? number(*watts) : nullptr; }

Json outlook_json(const align::Outlook& outlook) {
  return Json{{"now_mrad", number(mrad_from_rad(outlook.now_rad))},
              {"after_one_round_mrad", number(mrad_from_rad(outlook.after_rad))},
              {"now_W", watts_json(outlook.now_W)},
              {"after_one_round_W", watts_json(outlook.after_W)},
              {"perfect_W", watts_json(outlook.perfect_W)},
              {"note", outlook.note}};
}

Json convergence_json(const align::Convergence& found) {
  return Json{{"moves", found.moves},
              {"gain_error", number(found.gain_error)},
              {"gain_error_sigma", number(found.gain_error_sigma)},
              {"gamma", number(found.gamma)},
              {"floor_mrad", number(mrad_from_rad(found.floor_rad))},
              {"rounds_left", found.rounds_left}};
}

Json labels_json(const std::vector<align::LabelVerdict>& verdicts) {
  Json list = Json::array();
  for (const align::LabelVerdict& verdict : verdicts) {
    if (verdict.share.empty()) continue;
    list.push_back(Json{{"best", verdict.hypotheses[verdict.best].words},
                        {"share", number(verdict.share[verdict.best])},
                        {"as_filed", number(verdict.share[0])},
                        {"odds", number(verdict.odds)},
                        {"warn", verdict.warn},
                        {"act", verdict.act},
                        {"text", verdict.sentence}});
  }
  return list;
}

Json backlash_json(const std::vector<align::Backlash>& found) {
  Json list = Json::array();
  for (const align::Backlash& lost : found) {
    list.push_back(Json{{"mount", lost.mount.text},
                        {"turns", number(lost.turns)},
                        {"sigma_turns", number(lost.sigma_turns)},
                        {"reversals", lost.reversals},
                        {"used", lost.shown}});
  }
  return list;
}

Json story_json(const align::RoundsStory& story) {
  Json rounds = Json::array();
  for (const align::RoundInStory& round : story.rounds) rounds.push_back(round_json(round));
  return Json{{"rounds", std::move(rounds)},
              {"convergence", convergence_json(story.convergence)},
              {"outlook", outlook_json(story.outlook)},
              {"labels", labels_json(story.labels)},
              {"facet_labels", labels_json(story.facet_labels)},
              {"swaps", story.swaps},
              {"backlash", backlash_json(story.backlash)},
              {"over_elevation", align::elevation_lines(story.over_elevation)},
              {"doubts", story.doubts},
              {"verdict", story.verdict}};
}

std::string table_of(const align::RoundsStory& story) {
  Table table{.columns = {{"round", false},
                          {"spots"},
                          {"facets turned"},
                          {"turns"},
                          {"tilt mrad rms"},
                          {"expected next"}}};
  for (const align::RoundInStory& round : story.rounds) {
    table.rows.push_back({round.name, fmt::format("{}", round.seen),
                          fmt::format("{}", round.turned), fixed(round.turns, 1),
                          fixed(mrad_from_rad(round.rms_tilt_rad), 2),
                          fixed(mrad_from_rad(round.expected_next_rad), 2)});
  }
  return to_text(table);
}

void add_lines(std::string& text, const std::string& title, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  text += "\n" + title + "\n";
  for (const std::string& line : lines) text += "* " + line + "\n";
}

std::vector<std::string> label_lines(const align::RoundsStory& story) {
  std::vector<std::string> lines;
  for (const auto* verdicts : {&story.labels, &story.facet_labels}) {
    for (const align::LabelVerdict& verdict : *verdicts) {
      if (!verdict.sentence.empty()) lines.push_back(verdict.sentence);
    }
  }
  lines.insert(lines.end(), story.swaps.begin(), story.swaps.end());
  return lines;
}

std::string pace_text(const align::Convergence& found) {
  if (found.moves == 0) return "";
  return fmt::format(
      "\nThe spots moved {:+.0f} % (+- {:.0f} %) against what was told, over {} moves. Reading, "
      "hands and whole clicks leave about {:.2f} mrad; {} more round{} to get there.\n",
      100.0 * found.gain_error, 100.0 * found.gain_error_sigma, found.moves,
      mrad_from_rad(found.floor_rad),
      found.rounds_left == 0 ? "no" : fmt::format("{}", found.rounds_left),
      found.rounds_left == 1 ? "" : "s");
}

std::vector<std::string> backlash_lines(const align::RoundsStory& story) {
  std::vector<std::string> lines;
  for (const align::Backlash& lost : story.backlash) {
    if (!lost.shown) continue;
    lines.push_back(fmt::format(
        "Screws on mount {} lose {:.2f} +- {:.2f} turns when their direction changes. Finish every "
        "move in the loading direction: go beyond and come back.",
        lost.mount.text, lost.turns, lost.sigma_turns));
  }
  return lines;
}

}  // namespace

std::string json_text(const RoundsReply& reply) {
  Json json = reply.story ? story_json(*reply.story) : Json{{"rounds", Json::array()}};
  json["notes"] = reply.notes;
  json["conflicts"] = reply.conflicts;
  json["taken_back"] = reply.taken_back;
  if (reply.changed) json["file"] = files::write_dish(reply.dish);
  return to_text(json) + "\n";
}

std::string report_text(const RoundsReply& reply) {
  std::string text;
  if (!reply.taken_back.empty()) {
    text += fmt::format("{} was taken back: its screws stand where its spots found them.\n\n",
                        reply.taken_back);
  }
  if (!reply.story) return text + "No rounds are left.\n";
  const align::RoundsStory& story = *reply.story;
  text += table_of(story) + pace_text(story.convergence);
  for (const align::RoundInStory& round : story.rounds) {
    if (!round.problem.empty()) text += fmt::format("* {}: {}\n", round.name, round.problem);
  }
  add_lines(text, "What the two files say differently:", reply.conflicts);
  add_lines(text, "From the other file:", reply.notes);
  add_lines(text, "Labels, hand, thread and side:", label_lines(story));
  add_lines(text, "Moves that contradict the log:", story.doubts);
  add_lines(text, "Backlash:", backlash_lines(story));
  add_lines(text, "Over elevation:", align::elevation_lines(story.over_elevation));
  return text + "\n" + story.verdict + "\n" +
         (story.outlook.note.empty() ? "" : story.outlook.note + "\n");
}

}  // namespace tasks
