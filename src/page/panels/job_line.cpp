// Draws the job line from left to right: dish menu, stages, the sitting's own buttons.
#include "page/panels/job_line.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <array>
#include <string>

#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "session/demos.h"
#include "session/marks.h"

namespace page {
namespace {

namespace act = session::act;
using session::Stage;

struct StageName {
  Stage stage;
  const char* name;
  const char* hint;
};
constexpr std::array<StageName, 5> k_stages{{
    {Stage::lay_out, "Lay out", "Choose facets, focal length, secondary and receiver"},
    {Stage::form, "Form", "Decide what shape each facet gets, and of how many moulds"},
    {Stage::mount, "Mount", "Place the adjusters and read the caliper heights"},
    {Stage::light, "Light", "See the rays, the spot and where the watts go"},
    {Stage::align, "Align", "Turn observed spots into turns of each screw"},
}};

/// Text that acts: no ground until the pointer is over it.
bool text_button(const char* label, bool possible = true) {
  ImGui::PushStyleColor(ImGuiCol_Button, look::faded(look::theme().copper, 0.0F));
  ImGui::BeginDisabled(!possible);
  const bool clicked = ImGui::Button(label);
  ImGui::EndDisabled();
  ImGui::PopStyleColor();
  return clicked;
}

void show_file_menu(const session::Session& session, session::Actions& actions) {
  if (!ImGui::BeginPopup("dish menu")) return;
  if (ImGui::MenuItem("Open a dish or spots file", "Ctrl+O")) actions.push_back(act::AskOpen{});
  if (ImGui::MenuItem("Save the dish as a file", "Ctrl+S")) actions.push_back(act::Save{});
  if (ImGui::MenuItem("Copy a link that holds the dish")) actions.push_back(act::ShareLink{});
  ImGui::Separator();
  ImGui::TextDisabled("Start from a demo (undo brings this dish back)");
  for (const std::string& name : session::demo_names()) {
    if (ImGui::MenuItem(name.c_str(), nullptr, name == session.document.dish.name)) {
      actions.push_back(act::OpenDemo{name});
    }
  }
  ImGui::EndPopup();
}

void show_dish_name(const session::Session& session, session::Actions& actions) {
  const std::string label = session.document.dish.name + "  ▾###dish";
  ImGui::PushStyleColor(ImGuiCol_Button, look::faded(look::theme().copper, 0.0F));
  {
    const look::Font name(look::FontSize::large);
    if (ImGui::Button(label.c_str())) ImGui::OpenPopup("dish menu");
  }
  ImGui::PopStyleColor();
  hint_for_last("Open, save and share the dish; start from a demo");
  show_file_menu(session, actions);
}

void show_stage(const StageName& stage, const session::Session& session,
                session::Actions& actions) {
  const look::Theme& t = look::theme();
  const bool here = session.stage == stage.stage;
  const std::optional<session::Mark> mark = session::mark_of(session, stage.stage);
  const std::string label = mark ? fmt::format("{} ▲###{}", stage.name, stage.name)
                                 : fmt::format("{}###{}", stage.name, stage.name);
  ImGui::PushStyleColor(ImGuiCol_Text, here ? t.ink : t.ink_soft);
  if (text_button(label.c_str())) {
    const session::Actions wishes =
        mark ? session::go_to(*mark) : session::Actions{act::GoToStage{stage.stage}};
    actions.insert(actions.end(), wishes.begin(), wishes.end());
  }
  ImGui::PopStyleColor();
  const ImVec2 from = ImGui::GetItemRectMin();
  const ImVec2 to = ImGui::GetItemRectMax();
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  if (here) draw.AddRectFilled({from.x + 6.0F, to.y}, {to.x - 6.0F, to.y + 2.0F}, t.copper);
  hint_for_last(mark ? fmt::format("{}", fmt::join(mark->reasons, "\n")).c_str() : stage.hint);
}

void show_stages(const session::Session& session, session::Actions& actions) {
  for (std::size_t i = 0; i < k_stages.size(); ++i) {
    if (i > 0) {
      ImGui::SameLine(0.0F, 2.0F);
      ImGui::AlignTextToFramePadding();
      ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_faint);
      ImGui::TextUnformatted("·");
      ImGui::PopStyleColor();
      ImGui::SameLine(0.0F, 2.0F);
    }
    show_stage(k_stages[i], session, actions);
  }
}

void show_history(const session::Session& session, session::Actions& actions) {
  const session::Document& document = session.document;
  const bool can_undo = !document.undo_steps.empty();
  const bool can_redo = !document.redo_steps.empty();
  if (text_button("Undo", can_undo)) actions.push_back(act::Undo{});
  if (can_undo) {
    hint_for_last(("Take back: " + document.undo_steps.back().title + "  (Ctrl+Z)").c_str());
  }
  ImGui::SameLine(0.0F, 0.0F);
  if (text_button("Redo", can_redo)) actions.push_back(act::Redo{});
  if (can_redo) {
    hint_for_last(("Do again: " + document.redo_steps.back().title + "  (Ctrl+Shift+Z)").c_str());
  }
}

void show_sitting(const session::Session& session, session::Actions& actions) {
  const bool lamp = session.preferences.theme == session::ThemeChoice::lamp;
  ImGui::SameLine(0.0F, 8.0F);
  if (text_button(lamp ? "Noon" : "Lamp")) {
    actions.push_back(
        act::SetTheme{lamp ? session::ThemeChoice::noon : session::ThemeChoice::lamp});
  }
  hint_for_last(lamp ? "Light, high contrast: for full sun" : "Dark: for the workshop");
  ImGui::SameLine(0.0F, 0.0F);
  if (text_button("Keys ?")) actions.push_back(act::ShowKeys{!session.preferences.keys_shown});
  hint_for_last("Everything that can be done from the keyboard");
  ImGui::SameLine(0.0F, 8.0F);
  ImGui::AlignTextToFramePadding();
  const bool unsaved = session::is_unsaved(session.document);
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  ImGui::TextUnformatted(unsaved ? "kept here" : "saved");
  ImGui::PopStyleColor();
  hint_for_last(unsaved ? "Kept in this browser, not yet saved as a file. Nothing leaves this "
                          "machine: the page never uses the network once it has loaded."
                        : "As in the file. Nothing leaves this machine: the page never uses the "
                          "network once it has loaded.");
}

}  // namespace

void show_job_line(const session::Session& session, session::Actions& actions) {
  const float width = ImGui::GetWindowWidth();
  show_dish_name(session, actions);
  ImGui::SameLine();
  const float stages_at = std::max(ImGui::GetCursorPosX() + 8.0F, width * 0.5F - 180.0F);
  ImGui::SameLine(stages_at);
  show_stages(session, actions);
  ImGui::SameLine();
  const float sitting_width = 330.0F;
  ImGui::SameLine(std::max(ImGui::GetCursorPosX(), width - sitting_width));
  show_history(session, actions);
  show_sitting(session, actions);
}

}  // namespace page
