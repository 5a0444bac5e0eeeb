// One row a figure; the sentence on hover says what it is and what it leaves out.
#include "page/target_card/figures.h"

#include <imgui.h>

#include <array>
#include <string>

#include "base/units.h"
#include "page/look/theme.h"
#include "page/widgets/numbers.h"
#include "page/widgets/words.h"
#include "session/figures.h"

namespace target_card {
namespace {

constexpr float k_row = 21.0f;
constexpr int k_rows = 7;

struct Figure {
  const char* name;
  std::string value;
  const char* sentence;
};

std::string suns(double concentration) { return widgets::figures(concentration, 3) + " suns"; }

std::string place_text(const base::Vec2& point_m) {
  return widgets::decimals(base::mm_from_m(point_m.x), 1) + ", " +
         widgets::decimals(base::mm_from_m(point_m.y), 1) + " mm";
}

std::array<Figure, 6> figures_of(const optics::TraceResult& light) {
  return {{
      {"On the receiver", widgets::watts(light.power_receiver_W),
       "Light that arrives within the receiver's edge, before it absorbs or reflects any. Leaves "
       "out dirt, dew and warped facets unless the dish file has them."},
      {"Intercept", widgets::percent(light.intercept_factor),
       "Of the light that crosses the receiver's plane, the share within its edge."},
      {"Peak", suns(light.peak_concentration) + "  " + widgets::flux(light.peak_W_m2),
       "Greatest flux over a small disc of the plane, in suns of the direct light and as flux. A "
       "single hot grain within that disc can be brighter."},
      {"Mean on receiver", suns(light.mean_concentration),
       "Flux within the receiver's edge, averaged over its face, in suns of the direct light."},
      {"90 % within", widgets::millimetres(light.radius_m[1]) + " radius",
       "Circle about the centroid that holds nine tenths of the light crossing the plane."},
      {"Centroid", place_text(light.centroid_m),
       "Middle of all light in the plane: right, up from the receiver's middle, as seen facing the "
       "lit side."},
  }};
}

void show_row(const Figure& figure, const page::Rect& row) {
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const look::Theme& theme = look::theme();
  ImGui::SetCursorScreenPos({row.x, row.y});
  ImGui::PushID(figure.name);
  ImGui::InvisibleButton("figure", {row.width, row.height});
  ImGui::PopID();
  widgets::hint_for_last(figure.sentence);
  widgets::text_at(draw, {row.x, row.y + 3.0f}, theme.ink_soft, figure.name);
  widgets::text_ending_at(draw, {row.right(), row.y + 3.0f}, theme.ink, figure.value);
}

struct Standing {
  double share = 0.0;
  std::string text;
  const char* sentence = "";
};

Standing standing_of(const session::Session& session) {
  const session::FullTrace& full = session.full;
  if (session::shows_full_trace(session)) {
    const optics::TraceResult& light = *session::light_of(session);
    return {1.0,
            widgets::count(static_cast<double>(light.rays)) + " rays, \xC2\xB1 " +
                widgets::watts(light.standard_error_W),
            "The full ray trace has caught up: these figures are its own. \xC2\xB1 is the standard "
            "error of the watts on the receiver."};
  }
  if (full.state == session::FullTrace::State::running && full.parts > 0) {
    return {static_cast<double>(full.parts_done) / static_cast<double>(full.parts),
            "tracing rays, click to stop",
            "The full ray trace is under way. Until it has caught up the figures are the quick "
            "evaluation's, which has no noise."};
  }
  if (full.state == session::FullTrace::State::failed) {
    return {0.0, "the trace failed, click to retry",
            "A worker could not finish. The figures are the quick evaluation's."};
  }
  return {0.0, "quick evaluation",
          "No noise, recomputed while you drag. Click to trace the rays in full."};
}

void show_standing(const session::Session& session, const page::Rect& row,
                   session::Actions& actions) {
  const Standing standing = standing_of(session);
  ImGui::SetCursorScreenPos({row.x, row.y});
  if (ImGui::InvisibleButton("full trace", {row.width, row.height})) {
    if (session.full.state == session::FullTrace::State::running) {
      actions.emplace_back(session::act::CancelFullTrace{});
    } else {
      actions.emplace_back(session::act::StartFullTrace{});
    }
  }
  widgets::hint_for_last(standing.sentence);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  widgets::progress_ring(draw, {row.x + 8.0f, row.y + 12.0f}, 6.5f, standing.share);
  widgets::text_at(draw, {row.x + 22.0f, row.y + 4.0f}, look::theme().ink_soft, standing.text,
                   look::FontSize::small);
}

}  // namespace

float figures_height() { return k_row * k_rows + 8.0f; }

void show_figures(const session::Session& session, const page::Rect& place,
                  session::Actions& actions) {
  page::Rect row{place.x, place.y, place.width, k_row};
  if (const optics::TraceResult* light = session::light_of(session)) {
    for (const Figure& figure : figures_of(*light)) {
      show_row(figure, row);
      row.y += k_row;
    }
  } else {
    widgets::text_at(*ImGui::GetWindowDrawList(), {row.x, row.y + 3.0f}, look::theme().ink_soft,
                     "No light: see the findings on the bench.");
  }
  show_standing(session, {place.x, place.y + 6.0f * k_row, place.width, k_row + 4.0f}, actions);
}

}  // namespace target_card
