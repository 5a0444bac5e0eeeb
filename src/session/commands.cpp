// The table itself, and the small conditions and wishes it is made of.
#include "session/commands.h"

#include <algorithm>
#include <array>

#include "session/demos.h"
#include "session/figures.h"
#include "session/on_site.h"
#include "session/told.h"

namespace session {
namespace {

constexpr double k_exposure_step = 0.5;

// --- When possible ---

bool always(const Session& /*s*/) { return true; }
bool has_undo(const Session& s) { return !s.document.undo_steps.empty(); }
bool has_redo(const Session& s) { return !s.document.redo_steps.empty(); }
bool is_dragging(const Session& s) { return s.document.step_open; }
bool shows_keys(const Session& s) { return s.preferences.keys_shown; }
bool has_notice(const Session& s) { return !s.notices.empty(); }
bool has_facets(const Session& s) { return !s.document.dish.facets.empty(); }
bool has_facet(const Session& s) { return selected_facet(s).has_value(); }
bool has_spots(const Session& s) {
  const dish::Round* round = shown_round(s);
  return round != nullptr && !round->spots.empty();
}
bool has_plan(const Session& s) { return is_fresh(s, s.plan); }
bool has_light(const Session& s) { return s.live.value.has_value(); }
bool traces(const Session& s) { return s.full.state == FullTrace::State::running; }
bool sun_is_off(const Session& s) { return s.tracking_error_rad != base::Vec2(0.0, 0.0); }
bool is_after_first_stage(const Session& s) { return s.stage != Stage::lay_out; }
bool is_before_last_stage(const Session& s) { return s.stage != Stage::align; }
bool has_round_before(const Session& s) { return s.round > 0; }
bool has_round_after(const Session& s) { return s.round + 1 < s.document.dish.rounds.size(); }

template <int screw>
bool has_screw(const Session& s) {
  const auto facet = selected_facet(s);
  return facet && adjuster_of(s, *facet, screw) != nullptr;
}

bool is_displaced(const Session& s) {
  const auto facet = selected_facet(s);
  if (!facet) return false;
  const auto& displacement_m = s.document.dish.facets[*facet].displacement_m;
  return std::any_of(displacement_m.begin(), displacement_m.end(),
                     [](double d) { return d != 0.0; });
}

/// One click of the selected screw, clockwise as the person sees it.
std::optional<dish::Edit> click(const Session& s, int clockwise) {
  const auto facet = selected_facet(s);
  if (!facet) return {};
  const auto figures = screw_figures(s, *facet, s.selection.screw);
  if (!figures) return {};
  const int clicks = figures->seen_from_behind_it ? -clockwise : clockwise;
  return turn_by_clicks(s, *facet, s.selection.screw, clicks);
}

template <int clockwise>
bool can_click(const Session& s) {
  return click(s, clockwise).has_value();
}

bool is_on_site(const Session& s) { return s.on_site.shown; }
bool can_leave_site(const Session& s) { return s.on_site.shown && !s.preferences.keys_shown; }
bool can_go_on_site(const Session& s) { return !s.on_site.shown && can_work_on_site(s); }

// --- What it wishes ---

template <class Wish>
Actions wish(const Session& /*s*/) {
  return {Wish{}};
}

template <int step>
Actions go_stages(const Session& s) {
  return {act::GoToStage{static_cast<Stage>(static_cast<int>(s.stage) + step)}};
}

template <int step>
Actions go_facets(const Session& /*s*/) {
  return {act::SelectNext{step}};
}

template <int step>
Actions go_rounds(const Session& s) {
  return {act::SetRound{step > 0 ? s.round + 1 : s.round - 1}};
}

template <bool show>
Actions go_on_site(const Session& /*s*/) {
  return {act::WorkOnSite{show}};
}

template <act::MarkWork::Mark mark>
Actions mark_work(const Session& /*s*/) {
  return {act::MarkWork{mark}};
}

template <int step>
Actions go_work(const Session& /*s*/) {
  return {act::WorkStep{step}};
}

template <int screw>
Actions select_screw(const Session& s) {
  return {act::Select{.facet = s.selection.selected, .screw = screw}};
}

template <int clockwise>
Actions turn_click(const Session& s) {
  const auto edit = click(s, clockwise);
  if (!edit) return {};
  return {act::Change{*edit}};
}

template <int half_stops>
Actions expose(const Session& s) {
  return {act::SetExposure{s.preferences.exposure_stops + half_stops * k_exposure_step}};
}

Actions put_back(const Session& s) {
  return {act::Change{dish::edit::ResetDisplacements{.facet = s.selection.selected}}};
}

Actions select_nothing(const Session& /*s*/) { return {act::Select{}}; }

Actions open_next_demo(const Session& s) {
  const std::vector<Demo> all = demos();
  std::size_t next = 0;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (all[i].file_name == s.document.file_name) next = (i + 1) % all.size();
  return {act::OpenDemo{all[next].name}};
}

Actions other_theme(const Session& s) {
  const bool is_lamp = s.preferences.theme == ThemeChoice::lamp;
  return {act::SetTheme{is_lamp ? ThemeChoice::noon : ThemeChoice::lamp}};
}

Actions other_side(const Session& s) {
  return {act::SetSide{side_of(s) == dish::Side::back ? dish::Side::front : dish::Side::back}};
}

Actions next_tint(const Session& s) {
  constexpr int k_tints = static_cast<int>(Tint::travel) + 1;
  return {act::SetTint{static_cast<Tint>((static_cast<int>(s.preferences.tint) + 1) % k_tints)}};
}

template <int step>
Actions draw_rays(const Session& s) {
  const auto now = std::lower_bound(k_picture_rays.begin(), k_picture_rays.end() - 1,
                                    s.preferences.picture_rays);
  const auto next = (now - k_picture_rays.begin()) + step;
  const auto last = static_cast<std::ptrdiff_t>(k_picture_rays.size()) - 1;
  return {act::SetPictureRays{
      k_picture_rays[static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(next, 0, last))]}};
}

Actions other_keys_sheet(const Session& s) { return {act::ShowKeys{!s.preferences.keys_shown}}; }

Actions dismiss_newest(const Session& s) { return {act::DismissNotice{s.notices.size() - 1}}; }

// --- The table ---

using G = CommandGroup;

// Those of the work on site come first: while it is shown its keys mean these.
constexpr std::array k_commands = {
    Command{"Work facet by facet, on site", G::on_site, "O", "", can_go_on_site, go_on_site<true>},
    Command{"The turns of this facet are done", G::on_site, "D", "Enter", is_on_site,
            mark_work<act::MarkWork::done>},
    Command{"Look at this facet again later", G::on_site, "A", "", is_on_site,
            mark_work<act::MarkWork::again>},
    Command{"Skip this facet", G::on_site, "S", "", is_on_site, mark_work<act::MarkWork::skip>},
    Command{"Next facet of the work", G::on_site, "N", "Right", is_on_site, go_work<1>},
    Command{"Facet of the work before", G::on_site, "Shift+N", "Left", is_on_site, go_work<-1>},
    Command{"Leave the work on site", G::on_site, "Escape", "O", can_leave_site, go_on_site<false>},

    Command{"Open a file", G::dish, "Ctrl+O", "", always, wish<act::AskOpen>},
    Command{"Save the dish as a file", G::dish, "Ctrl+S", "", always, wish<act::Save>},
    Command{"Share the dish as a link", G::dish, "Ctrl+K", "", always, wish<act::ShareLink>},
    Command{"Open the next demo dish", G::dish, "M", "", always, open_next_demo},

    Command{"Undo", G::history, "Ctrl+Z", "", has_undo, wish<act::Undo>},
    Command{"Redo", G::history, "Ctrl+Shift+Z", "Ctrl+Y", has_redo, wish<act::Redo>},
    Command{"Give up the drag", G::history, "Escape", "", is_dragging, wish<act::CancelDrag>},

    Command{"Next stage", G::look, "PageDown", "", is_before_last_stage, go_stages<1>},
    Command{"Previous stage", G::look, "PageUp", "", is_after_first_stage, go_stages<-1>},
    Command{"Colour the facets by the next quantity", G::look, "C", "", always, next_tint},
    Command{"Draw more rays", G::look, "I", "", always, draw_rays<1>},
    Command{"Draw fewer rays", G::look, "Shift+I", "", always, draw_rays<-1>},
    Command{"Expose the spot longer", G::look, "E", "", always, expose<1>},
    Command{"Expose the spot shorter", G::look, "Shift+E", "", always, expose<-1>},
    Command{"Change between lamp and noon", G::look, "T", "", always, other_theme},
    Command{"Show or hide the keys", G::look, "?", "", always, other_keys_sheet},
    Command{"Put the keys away", G::look, "Escape", "", shows_keys, other_keys_sheet},
    Command{"Dismiss the newest notice", G::look, "X", "", has_notice, dismiss_newest},

    Command{"Next facet", G::facets, "N", "", has_facets, go_facets<1>},
    Command{"Previous facet", G::facets, "Shift+N", "", has_facets, go_facets<-1>},
    Command{"Select nothing", G::facets, "Escape", "", has_facet, select_nothing},

    Command{"Select screw 1", G::screws, "1", "", has_screw<0>, select_screw<0>},
    Command{"Select screw 2", G::screws, "2", "", has_screw<1>, select_screw<1>},
    Command{"Select screw 3", G::screws, "3", "", has_screw<2>, select_screw<2>},
    Command{"Turn the screw one click clockwise, as you see it", G::screws, "+", "=", can_click<1>,
            turn_click<1>},
    Command{"Turn the screw one click anticlockwise, as you see it", G::screws, "-", "",
            can_click<-1>, turn_click<-1>},
    Command{"Put the facet's screws back to nominal", G::screws, "0", "", is_displaced, put_back},
    Command{"Stand on the other side of the dish", G::screws, "B", "", always, other_side},

    Command{"Log the spots of the model's light as a round", G::rounds, "L", "", has_light,
            wish<act::SpotsFromLight>},
    Command{"The told turns are done", G::rounds, "D", "", turns_are_open, wish<act::TurnsDone>},
    Command{"Next round", G::rounds, "R", "", has_round_after, go_rounds<1>},
    Command{"Previous round", G::rounds, "Shift+R", "", has_round_before, go_rounds<-1>},
    Command{"Save the spots as a table", G::rounds, "Ctrl+E", "", has_spots,
            wish<act::ExportSpots>},
    Command{"Save the turns as a table", G::rounds, "Ctrl+Shift+E", "", has_plan,
            wish<act::ExportTurns>},

    Command{"Trace the light in full", G::light, "F", "", has_light, wish<act::StartFullTrace>},
    Command{"Stop the full trace", G::light, "Shift+F", "", traces, wish<act::CancelFullTrace>},
    Command{"Put the sun back on the axis", G::light, "A", "", sun_is_off,
            wish<act::SetTrackingError>},
};

}  // namespace

std::span<const Command> commands() { return k_commands; }

const char* to_text(CommandGroup group) {
  switch (group) {
    case CommandGroup::dish:
      return "Dish";
    case CommandGroup::history:
      return "Steps";
    case CommandGroup::look:
      return "View";
    case CommandGroup::facets:
      return "Facets";
    case CommandGroup::screws:
      return "Screws";
    case CommandGroup::rounds:
      return "Rounds";
    case CommandGroup::on_site:
      return "On site";
    case CommandGroup::light:
      return "Light";
  }
  return "";
}

const Command* command_of_keys(const Session& session, std::string_view keys) {
  if (keys.empty()) return nullptr;
  for (const Command& command : commands())
    if ((command.keys == keys || command.also == keys) && command.possible(session))
      return &command;
  return nullptr;
}

const Command* find_command(std::string_view name) {
  for (const Command& command : commands())
    if (command.name == name) return &command;
  return nullptr;
}

}  // namespace session
