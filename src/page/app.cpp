// One frame of the page: regions, wishes, one apply, errands.
#include "page/app.h"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <memory>

#include "page/bench/align_bench.h"
#include "page/bench/form_bench.h"
#include "page/bench/lay_out_bench.h"
#include "page/bench/light_bench.h"
#include "page/bench/mount_bench.h"
#include "page/bench/photo_bench.h"
#include "page/chords.h"
#include "page/errands.h"
#include "page/keys_sheet.h"
#include "page/layout.h"
#include "page/look/theme.h"
#include "page/on_site/on_site.h"
#include "page/panels/job_line.h"
#include "page/panels/notices.h"
#include "page/panels/screw_strip.h"
#include "page/panels/watts_bar.h"
#include "page/platform/files.h"
#include "page/platform/window.h"
#include "page/report.h"
#include "page/target_card/card.h"
#include "page/view_keys.h"
#include "page/widgets/words.h"
#include "page/yard/yard.h"
#include "session/commands.h"
#include "session/session.h"

namespace page {

/// The benches' own memories, one a stage.
struct Benches {
  LayOutMemory lay_out;
  FormMemory form;
  MountMemory mount;
  LightMemory light;
  AlignMemory align;
  PhotoMemory photo;
};

struct App {
  session::Session session;
  session::Actions actions;
  Errands errands;
  yard::Yard yard;
  target_card::Card card;
  Benches benches;
  StripMemory strip;
};

namespace {

look::ThemeName theme_name(session::ThemeChoice choice) {
  return choice == session::ThemeChoice::noon ? look::ThemeName::noon : look::ThemeName::lamp;
}

void follow_theme(const session::Session& session) {
  const look::ThemeName wanted = theme_name(session.preferences.theme);
  if (look::theme().name != wanted) look::apply(wanted);
}

void take_keys(App& app) {
  for (const std::string& chord : typed_chords()) {
    if (press_view_key(chord, app.yard, app.card)) {
      platform::request_frames(2);
      continue;
    }
    const session::Command* command = session::command_of_keys(app.session, chord);
    if (command == nullptr) continue;
    const session::Actions wished = command->actions(app.session);
    app.actions.insert(app.actions.end(), wished.begin(), wished.end());
  }
}

// A region of the page: a part of the one window, without any decoration.
template <class Content>
void region(const char* name, const Rect& place, const ImVec2& padding, ImGuiWindowFlags flags,
            const Content& content) {
  ImGui::SetCursorScreenPos({place.x, place.y});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, padding);
  const bool open = ImGui::BeginChild(name, {place.width, place.height},
                                      ImGuiChildFlags_AlwaysUseWindowPadding, flags);
  ImGui::PopStyleVar();
  if (open) content();
  ImGui::EndChild();
}

constexpr ImGuiWindowFlags k_still =
    ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse;
constexpr ImVec2 k_column_padding{16.0f, 14.0f};
constexpr ImVec2 k_no_padding{0.0f, 0.0f};

void draw_rules(const Layout& layout) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const float right = layout.job_line.right();
  widgets::rule_across(draw, 0.0f, right, layout.bench.y);
  widgets::rule_across(draw, 0.0f, right, layout.strip.y);
  widgets::rule_down(draw, layout.yard.x, layout.bench.y, layout.strip.y);
  widgets::rule_down(draw, layout.card.x, layout.bench.y, layout.strip.y);
  widgets::rule_down(draw, layout.watts.x, layout.strip.y + 14.0f, layout.strip.bottom() - 14.0f);
}

// The yard without the rules on its edges.
Rect within_rules(const Rect& yard) {
  return {yard.x + 1.0f, yard.y + 1.0f, yard.width - 1.0f, yard.height - 1.0f};
}

// The yard without its legend; the words below it the hints clear by themselves.
Rect above_legend(const session::Session& session, const Rect& yard) {
  const float legend = session.preferences.tint == session::Tint::plain ? 0.0f : 50.0f;
  return {yard.x, yard.y, yard.width, yard.height - legend};
}

void show_drop_hint(const Rect& over) {
  if (!platform::files_hover()) return;
  ImDrawList& draw = *ImGui::GetForegroundDrawList();
  const look::Theme& theme = look::theme();
  draw.AddRectFilled({over.x, over.y}, {over.right(), over.bottom()},
                     look::faded(theme.ground, 0.82f));
  draw.AddRect({over.x + 18.0f, over.y + 18.0f}, {over.right() - 18.0f, over.bottom() - 18.0f},
               theme.copper, 4.0f, 0, 1.5f);
  widgets::text_centred_at(draw, {over.x + 0.5f * over.width, over.y + 0.5f * over.height - 12.0f},
                           theme.ink, "Drop a dish file, a table of spots or a photo of the board",
                           look::FontSize::large);
}

bool shows_photos(const session::Session& session) {
  return session.photo_work.shown && session.stage == session::Stage::align;
}

// Each bench is scrolled on its own, and is where it was left when the person comes back.
const char* bench_name(const session::Session& session) {
  static constexpr std::array<const char*, 5> k_names = {
      "bench lay out", "bench form", "bench mount", "bench light", "bench align"};
  return shows_photos(session) ? "bench photos" : k_names[static_cast<std::size_t>(session.stage)];
}

void show_bench(const session::Session& session, Benches& benches, session::Actions& actions) {
  switch (session.stage) {
    case session::Stage::lay_out:
      return show_lay_out_bench(session, benches.lay_out, actions);
    case session::Stage::form:
      return show_form_bench(session, benches.form, actions);
    case session::Stage::mount:
      return show_mount_bench(session, benches.mount, actions);
    case session::Stage::light:
      return show_light_bench(session, benches.light, actions);
    case session::Stage::align:
      if (shows_photos(session)) return show_photo_bench(session, benches.photo, actions);
      return show_align_bench(session, benches.align, actions);
  }
}

/// The strip below, and what lies over everything.
void show_low_regions(App& app, const Layout& layout) {
  const session::Session& session = app.session;
  region("screw strip", layout.strip, k_column_padding, k_still,
         [&] { show_screw_strip(session, app.strip, app.actions); });
  region("watts", layout.watts, k_column_padding, k_still, [&] { show_watts_bar(session); });
  show_notices(session, within_rules(layout.yard), app.actions);
  if (session.preferences.keys_shown) show_keys_sheet(session, app.actions);
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  show_drop_hint({0.0f, 0.0f, size.x, size.y});
}

void show_regions(App& app) {
  const ImVec2 size = ImGui::GetIO().DisplaySize;
  const Layout layout = lay_out(size.x, size.y);
  const session::Session& session = app.session;
  if (!session.on_site.shown) draw_rules(layout);
  region("job line", layout.job_line, {16.0f, 6.0f}, k_still,
         [&] { show_job_line(session, app.actions); });
  if (session.on_site.shown) {
    const Rect below{0.0f, layout.bench.y, layout.job_line.width,
                     layout.strip.bottom() - layout.bench.y};
    region("on site", below, k_no_padding, k_still,
           [&] { show_on_site(session, below, app.actions); });
    show_notices(session, below, app.actions);
    if (session.preferences.keys_shown) show_keys_sheet(session, app.actions);
    return;
  }
  region(bench_name(session), layout.bench, k_column_padding, 0,
         [&] { show_bench(session, app.benches, app.actions); });
  const Rect yard = within_rules(layout.yard);
  if (shows_photos(session)) {
    const Rect table{yard.x, yard.y, layout.card.right() - yard.x, yard.height};
    region("photo", table, k_no_padding, k_still,
           [&] { show_photo_canvas(session, app.benches.photo.canvas, table, app.actions); });
    show_low_regions(app, layout);
    return;
  }
  region("yard", yard, k_no_padding, k_still,
         [&] { yard::show_yard(session, app.yard, yard, app.actions); });
  region("target card", layout.card, k_no_padding, k_still,
         [&] { target_card::show_card(session, app.card, layout.card, app.actions); });
  if (!session.preferences.keys_shown) show_hints(session, above_legend(session, yard));
  show_low_regions(app, layout);
}

void show_page(App& app) {
  const ImGuiIO& io = ImGui::GetIO();
  ImGui::SetNextWindowPos({0.0f, 0.0f});
  ImGui::SetNextWindowSize(
      {std::max(io.DisplaySize.x, k_least_width), std::max(io.DisplaySize.y, k_least_height)});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, k_no_padding);
  ImGui::Begin("page", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                   ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
                   k_still);
  ImGui::PopStyleVar();
  show_regions(app);
  ImGui::End();
}

bool is_hover(const session::Action& action) {
  return std::holds_alternative<session::act::Hover>(action);
}

// Who hovers a facet says so in every frame; when nobody does, nothing is hovered. What is said
// already changes nothing and must not keep the page awake.
void settle_hover(const session::Session& session, session::Actions& actions) {
  std::optional<dish::FacetId> hovered;
  for (const session::Action& action : actions) {
    if (is_hover(action)) hovered = std::get<session::act::Hover>(action).facet;
  }
  actions.erase(std::remove_if(actions.begin(), actions.end(), is_hover), actions.end());
  if (hovered != session.selection.hovered) actions.emplace_back(session::act::Hover{hovered});
}

}  // namespace

App* make_app() {
  static const auto app = std::make_unique<App>();
  app->session = session::start_session();
  restore(app->session);
  follow_theme(app->session);
  app->errands.rest_told = false;
  return app.get();
}

void frame(App& app) {
  bool changed = take_arrivals(app.session, app.actions);
  take_keys(app);
  show_page(app);
  settle_hover(app.session, app.actions);
  if (!app.actions.empty()) {
    changed = true;
    session::apply(app.session, app.actions);
    app.actions.clear();
    follow_theme(app.session);
  }
  run_errands(app.session.outbox);
  keep_and_rest(app.session, app.errands, changed);
}

void draw_scene(App& app) {
  if (!app.session.on_site.shown && !shows_photos(app.session)) {
    yard::draw_yard(app.session, app.yard);
  }
}

void context_lost(App& app) {
  yard::forget(app.yard);
  target_card::forget(app.card);
  forget(app.benches.photo.canvas);
}

void context_restored(App& /*app*/) { platform::request_frames(3); }

std::string test_state(const App& app) { return report(app.session); }

}  // namespace page
