// The facet's name, its picture, a line for each screw, and what a thumb can hit.
#include "page/on_site/on_site.h"

#include <fmt/format.h>
#include <imgui.h>

#include <string>

#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/on_site/screws_picture.h"
#include "page/widgets/words.h"
#include "session/figures.h"
#include "session/on_site.h"

namespace page {
namespace {

namespace act = session::act;
using session::FacetWork;

constexpr float k_margin = 28.0F;
constexpr float k_button_height = 88.0F;
constexpr float k_slips_height = 64.0F;
constexpr float k_head_height = 96.0F;

const char* words_of(FacetWork work) {
  switch (work) {
    case FacetWork::done:
      return "✓ done";
    case FacetWork::again:
      return "to be looked at again";
    case FacetWork::skipped:
      return "skipped";
    default:
      return "";
  }
}

/// The facet's name in giant letters, how far the work has come, and the ways out.
void show_head(const session::Session& session, const dish::FacetId& facet, const Rect& place,
               session::Actions& actions) {
  const look::Theme& t = look::theme();
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const ImVec2 name =
      widgets::text_at(draw, {place.x, place.y - 6.0F}, t.ink, facet.text, look::FontSize::giant);
  const session::WorkCount count = session::count_work(session);
  const float left = place.x + name.x + 28.0F;
  widgets::text_at(
      draw, {left, place.y + 8.0F}, t.ink,
      fmt::format("facet {} of {}, {} done", session.on_site.place + 1, count.all, count.done),
      look::FontSize::large);
  widgets::text_at(draw, {left, place.y + 40.0F}, t.cool,
                   words_of(session::work_on(session, facet)));
  ImGui::SetCursorScreenPos({place.right() - 360.0F, place.y + 6.0F});
  const bool is_behind = session::side_of(session) == dish::Side::back;
  if (ImGui::Button(is_behind ? "You stand behind###work side" : "You stand in front###work side",
                    {196.0F, 40.0F})) {
    actions.push_back(act::SetSide{is_behind ? dish::Side::front : dish::Side::back});
  }
  hint_for_last("Pictures and directions are as seen from here; touch to change");
  ImGui::SameLine(0.0F, 12.0F);
  if (ImGui::Button("Leave###leave work", {152.0F, 40.0F}))
    actions.push_back(act::WorkOnSite{false});
}

/// "2  ↻ 1¼" in giant letters, and the whole instruction below.
void show_screw(const session::ToldScrew& screw, float left, float top, float width) {
  const look::Theme& t = look::theme();
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const bool turns = screw.clicks != 0;
  const ImVec2 middle{left + 34.0F, top + 42.0F};
  draw.AddCircleFilled(middle, 32.0F, turns ? t.copper_soft : t.field, 48);
  draw.AddCircle(middle, 32.0F, turns ? t.copper : t.ink_faint, 48, 2.5F);
  widgets::text_centred_at(draw, {middle.x, middle.y - 0.5F * look::k_large_px},
                           turns ? t.ink : t.ink_soft, screw.label, look::FontSize::large);
  const std::string amount = turns ? (screw.clicks > 0 ? "↻ " : "↺ ") + screw.amount : "–";
  widgets::text_at(draw, {left + 92.0F, top}, turns ? t.copper : t.ink_faint, amount,
                   look::FontSize::giant);
  ImGui::SetCursorScreenPos({left + 92.0F, top + look::k_giant_px + 4.0F});
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + width - 100.0F);
  paragraph(screw.words);
  ImGui::PopTextWrapPos();
}

void show_told(const session::Session& session, const dish::FacetId& id, const Rect& place) {
  const dish::Dish& dish = session.document.dish;
  const std::size_t index = dish::find_facet(dish, id);
  const auto told = session::told_screws(session, id);
  if (!told || index == dish::k_no_facet) {
    ImGui::SetCursorScreenPos({place.x, place.y + 40.0F});
    ImGui::TextWrapped("This facet has no spot in the shown round, so nothing is told for it.");
    return;
  }
  const float picture = std::min(0.44F * place.width, place.height);
  draw_screws_picture(session, dish.facets[index], *told,
                      {place.x, place.y, picture, place.height});
  const float left = place.x + picture + 36.0F;
  const float row = std::min(place.height / 3.0F, 150.0F);
  for (std::size_t k = 0; k < 3; ++k) {
    show_screw((*told)[k], left, place.y + static_cast<float>(k) * row, place.right() - left);
  }
}

/// A button as high as a thumb in a glove wants it.
bool great_button(const char* label, const ImVec2& size, bool is_main) {
  const look::Theme& t = look::theme();
  const look::Font large(look::FontSize::large);
  if (is_main) {
    ImGui::PushStyleColor(ImGuiCol_Button, t.copper);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, look::mixed(t.copper, t.ink, 0.12F));
    ImGui::PushStyleColor(ImGuiCol_Text, t.on_copper);
  }
  const bool pressed = ImGui::Button(label, size);
  if (is_main) ImGui::PopStyleColor(3);
  return pressed;
}

void show_buttons(const Rect& place, session::Actions& actions) {
  const float step = 84.0F;
  const float gap = 12.0F;
  const float each = (place.width - 2.0F * step - 4.0F * gap) / 4.0F;
  ImGui::SetCursorScreenPos({place.x, place.y});
  if (great_button("←###work before", {step, place.height}, false)) {
    actions.push_back(act::WorkStep{-1});
  }
  ImGui::SameLine(0.0F, gap);
  if (great_button("Done  D###work done", {2.0F * each, place.height}, true)) {
    actions.push_back(act::MarkWork{act::MarkWork::done});
  }
  hint_for_last("Logs these turns as made, and shows the next facet");
  ImGui::SameLine(0.0F, gap);
  if (great_button("Again  A###work again", {each, place.height}, false)) {
    actions.push_back(act::MarkWork{act::MarkWork::again});
  }
  hint_for_last("Something was odd here: look at this facet's spot again before turning");
  ImGui::SameLine(0.0F, gap);
  if (great_button("Skip  S###work skip", {each, place.height}, false)) {
    actions.push_back(act::MarkWork{act::MarkWork::skip});
  }
  ImGui::SameLine(0.0F, gap);
  if (great_button("→###work next", {step, place.height}, false)) {
    actions.push_back(act::WorkStep{1});
  }
}

/// What one tap puts right: of the facet in hand when it is done, else of the one done last.
void show_slips(const session::Session& session, const dish::FacetId& hand, const Rect& place,
                session::Actions& actions) {
  const bool is_done = !session::turned_at(session, hand).empty();
  const auto facet = is_done ? std::optional(hand) : session.on_site.last_done;
  if (!facet) return;
  const auto slips = session::slips_of(session, *facet);
  if (slips.empty()) return;
  ImGui::SetCursorScreenPos({place.x, place.y});
  ImGui::AlignTextToFramePadding();
  ImGui::TextUnformatted(fmt::format("At {}:", facet->text).c_str());
  for (const session::Slip& slip : slips) {
    ImGui::SameLine(0.0F, 10.0F);
    const float width = ImGui::CalcTextSize(slip.words.c_str()).x + 24.0F;
    if (ImGui::GetCursorScreenPos().x + width > place.right()) break;
    if (ImGui::Button(slip.words.c_str(), {width, 40.0F})) {
      actions.push_back(act::Change{slip.amend});
    }
    hint_for_last("Puts right what the log says was turned; what was told stays in it");
  }
}

}  // namespace

void show_on_site(const session::Session& session, const Rect& place, session::Actions& actions) {
  const auto hand = session::facet_in_hand(session);
  if (!hand) return;
  const Rect within{place.x + k_margin, place.y + 20.0F, place.width - 2.0F * k_margin,
                    place.height - 36.0F};
  show_head(session, *hand, {within.x, within.y, within.width, k_head_height}, actions);
  const float foot = within.bottom() - k_button_height - k_slips_height;
  show_told(
      session, *hand,
      {within.x, within.y + k_head_height, within.width, foot - within.y - k_head_height - 16.0F});
  show_buttons({within.x, foot, within.width, k_button_height}, actions);
  show_slips(session, *hand, {within.x, foot + k_button_height + 12.0F, within.width, 40.0F},
             actions);
  widgets::text_ending_at(*ImGui::GetWindowDrawList(), {within.right(), within.bottom() - 2.0F},
                          look::theme().doubt,
                          "Keep facets covered while you work; never look into the spot or a "
                          "facet's reflection.",
                          look::FontSize::small);
}

}  // namespace page
