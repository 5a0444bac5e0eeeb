// Reads the story that was told at rest; nothing is worked out here.
#include "page/bench/story_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/bench/fields.h"
#include "page/bench/trial_rows.h"
#include "page/look/theme.h"
#include "page/widgets/chart.h"
#include "page/widgets/numbers.h"

namespace page {
namespace {

using base::mrad_from_rad;

void show_curve(const align::RoundsStory& story, std::size_t facets) {
  optics::Curve seen;
  optics::Curve expected;
  for (std::size_t k = 0; k < story.rounds.size(); ++k) {
    const align::RoundInStory& round = story.rounds[k];
    // A trial of two facets, or a look at a few doubtful ones, tells nothing of the whole dish.
    if (!round.problem.empty() || 2 * round.seen < facets) continue;
    const auto number = static_cast<double>(k + 1);
    seen.x.push_back(number);
    seen.y.push_back(round.rms_tilt_rad);
    if (round.turned > 0 && round.expected_next_rad > 0.0) {
      expected.x.push_back(number + 1.0);
      expected.y.push_back(round.expected_next_rad);
    }
  }
  if (seen.x.size() + expected.x.size() < 2) return;
  widgets::chart({.id = "rounds",
                  .height = 92.0F,
                  .lines = {{"seen", seen, false}, {"expected", expected, true}},
                  .y_per_unit = 1e3,
                  .x_unit = "round",
                  .y_unit = "mrad",
                  .hint = "Root mean square tilt of the facets as each round read it, and what the "
                          "turns before it let expect"});
}

void show_pace(const align::RoundsStory& story) {
  const align::Convergence& pace = story.convergence;
  if (pace.moves > 0) {
    figure_row("screws move",
               fmt::format("{:.0f} ± {:.0f} % of told", 100.0 * (1.0 + pace.gain_error),
                           100.0 * pace.gain_error_sigma),
               "Mean over all moves that were looked at afterwards");
    figure_row("left of an error", fmt::format("{:.0f} % a round", 100.0 * pace.gamma),
               "What a round of turning leaves of a facet's error, reading and hands taken off");
  }
  figure_row("no better than", fmt::format("{:.2f} mrad", mrad_from_rad(pace.floor_rad)),
             "What reading, hands and whole clicks leave, however many rounds");
}

void show_outlook(const align::Outlook& outlook) {
  const auto figure = [](double tilt_rad, const std::optional<double>& watts) {
    std::string text = fmt::format("{:.2f} mrad", mrad_from_rad(tilt_rad));
    if (watts) text += ", " + widgets::watts(*watts);
    return text;
  };
  figure_row("stop now", figure(outlook.now_rad, outlook.now_W),
             "Expected tilt with the noise of reading taken off, and light on the receiver");
  figure_row("one round more", figure(outlook.after_rad, outlook.after_W),
             "If the told turns are made by ordinary hands");
  if (outlook.perfect_W) {
    figure_row("at best", widgets::watts(*outlook.perfect_W), "Every facet at its aim");
  }
  if (!outlook.note.empty()) remark(outlook.note.c_str());
}

void show_warning(const std::string& sentence) {
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().doubt);
  paragraph(sentence);
  ImGui::PopStyleColor();
}

void show_warnings(const align::RoundsStory& story, session::Actions& actions) {
  for (const align::LabelVerdict& verdict : story.labels) {
    if (verdict.sentence.empty()) continue;
    show_warning(verdict.sentence);
    show_correction(verdict, actions);
  }
  for (const align::LabelVerdict& verdict : story.facet_labels) {
    if (!verdict.sentence.empty()) show_warning(verdict.sentence);
  }
  for (const auto* sentences : {&story.swaps, &story.doubts}) {
    for (const std::string& sentence : *sentences) show_warning(sentence);
  }
  for (const std::string& line : align::elevation_lines(story.over_elevation)) {
    paragraph(line);
  }
  for (const align::Backlash& backlash : story.backlash) {
    if (!backlash.shown) continue;
    figure_row("backlash", fmt::format("{:.2f} turns", backlash.turns),
               "What screws lose when their direction changes, as the rounds show");
  }
}

}  // namespace

void show_story_rows(const session::Session& session, session::Actions& actions) {
  if (!session.story.value) {
    for (const base::Problem& problem : session.story.problems) {
      remark(base::to_line(problem).c_str());
    }
    return;
  }
  const align::RoundsStory& story = *session.story.value;
  section("How the rounds go");
  show_curve(story, session.document.dish.facets.size());
  show_pace(story);
  show_outlook(story.outlook);
  if (!story.verdict.empty()) remark(story.verdict.c_str());
  show_warnings(story, actions);
}

}  // namespace page
