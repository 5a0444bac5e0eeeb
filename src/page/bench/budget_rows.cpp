// A bar for each cause: the watts that would come if it alone were perfect.
#include "page/bench/budget_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/units.h"
#include "page/bench/fields.h"
#include "page/bench/study_rows.h"
#include "page/look/theme.h"
#include "page/widgets/numbers.h"
#include "page/widgets/words.h"

namespace page {
namespace {

const char* remedy_words(optics::Remedy remedy) {
  switch (remedy) {
    case optics::Remedy::by_hand:
      return "can be put right by hand";
    case optics::Remedy::mirrors:
      return "takes other mirrors";
    case optics::Remedy::layout:
      return "takes another layout";
    case optics::Remedy::none:
      break;
  }
  return "is the sun's own";
}

/// As short as the column is narrow; the hint says it in full.
const char* short_name(optics::Cause cause) {
  constexpr std::array<const char*, optics::k_causes> names = {"size of the sun",
                                                               "aureole",
                                                               "slope error",
                                                               "specularity",
                                                               "form errors",
                                                               "screws off their aim",
                                                               "form for its place",
                                                               "tracking",
                                                               "secondary's errors",
                                                               "shading",
                                                               "blocking",
                                                               "absorption",
                                                               "dirt",
                                                               "past the receiver"};
  return names[static_cast<std::size_t>(cause)];
}

std::string hint_of(const optics::CauseCost& cost) {
  return fmt::format(
      "{}.\n\nPerfect in this alone, the dish would bring {:+.1f} W (\xC2\xB1 {:.1f} W). Alone in "
      "an "
      "otherwise perfect dish it would cost {:.1f} W (\xC2\xB1 {:.1f} W) and make a spot of {:.1f} "
      "mm rms, {:.2f} mrad seen from the facets. It {}.",
      optics::words_of(cost.cause), cost.gain_W, cost.gain_error_W, cost.loss_W, cost.loss_error_W,
      base::mm_from_m(cost.blur_m), base::mrad_from_rad(cost.blur_rad),
      remedy_words(optics::remedy_of(cost.cause)));
}

void show_cost(const optics::CauseCost& cost, double most_W) {
  constexpr float k_row = 22.0F;
  const look::Theme& theme = look::theme();
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::InvisibleButton(optics::key_of(cost.cause), {width, k_row});
  const std::string hint = hint_of(cost);
  widgets::hint_for_last(hint.c_str());
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const bool fixed = optics::remedy_of(cost.cause) == optics::Remedy::none;
  const ImU32 ink = fixed ? theme.ink_faint : theme.copper;
  const auto share = static_cast<float>(std::clamp(std::abs(cost.gain_W) / most_W, 0.0, 1.0));
  draw.AddRectFilled({corner.x, corner.y + k_row - 4.0F},
                     {corner.x + share * width, corner.y + k_row - 2.0F}, ink);
  widgets::text_at(draw, {corner.x, corner.y + 1.0F}, fixed ? theme.ink_soft : theme.ink,
                   short_name(cost.cause));
  widgets::text_ending_at(draw, {corner.x + width, corner.y + 1.0F}, theme.ink,
                          fmt::format("{:+.1f} W", cost.gain_W));
}

void show_answer(const optics::Budget& budget) {
  double most_W = 1e-9;
  for (const optics::CauseCost& cost : budget.costs) {
    most_W = std::max(most_W, std::abs(cost.gain_W));
  }
  for (const std::string& sentence : budget.advice) {
    paragraph(sentence);
  }
  ImGui::Spacing();
  for (const optics::CauseCost& cost : budget.costs) {
    if (cost.is_present) show_cost(cost, most_W);
  }
  ImGui::Spacing();
  figure_row("as it is", widgets::watts(budget.as_is_W), "On the receiver");
  figure_row("with everything perfect", widgets::watts(budget.perfect_W),
             "All causes perfect at once, the receiver as large as it is");
  figure_row("use of the thermodynamic limit", widgets::percent(budget.merit.etendue_use),
             "Mean concentration over the most that any optics could reach under this sun, "
             "1 / sin\xC2\xB2 of its half angle");
}

}  // namespace

void show_budget_rows(const session::Session& session, session::Actions& actions) {
  if (study_row(
          session,
          {.kind = session::StudyKind::budget,
           .ask = "Work out what each error costs",
           .again = "Work it out again",
           .hint = "Traces the dish with one cause at a time made perfect, and a perfect dish "
                   "with one at a time, all with the same random points."},
          actions)) {
    actions.push_back(session::act::StartBudget{});
  }
  const auto& budget = session.studies.budget;
  if (budget.reply) {
    show_answer(budget.reply->budget);
  } else {
    remark("Which error is worth mending first, in watts.");
  }
}

}  // namespace page
