// The order of the bench: where the sun stands, what the mirrors are like, what comes of it.
#include "page/bench/light_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "optics/profiles.h"
#include "optics/shadows.h"
#include "page/bench/budget_rows.h"
#include "page/bench/facet_type_rows.h"
#include "page/bench/table.h"
#include "page/widgets/chart.h"
#include "page/widgets/numbers.h"
#include "session/figures.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void show_tracking(const session::Session& session, LightMemory& memory,
                   session::Actions& actions) {
  base::Vec2 error = session.tracking_error_rad;
  const auto x = plain_number_row({"to the right", Quantity::tracking_error, error.x,
                                   "The sun stands this far to +x of the dish's axis"},
                                  memory.fields);
  const auto y = plain_number_row(
      {"up", Quantity::tracking_error, error.y, "The sun stands this far to +y of the dish's axis"},
      memory.fields);
  if (x) error.x = *x;
  if (y) error.y = *y;
  if (x || y) actions.push_back(act::SetTrackingError{error});
  const bool off = error.x != 0.0 || error.y != 0.0;
  if (off && wide_button("Point at the sun again")) actions.push_back(act::SetTrackingError{});
}

void show_full_trace(const session::Session& session, session::Actions& actions) {
  using State = session::FullTrace::State;
  const session::FullTrace& full = session.full;
  if (full.state == State::running) {
    const float share = full.parts == 0
                            ? 0.0F
                            : static_cast<float>(full.parts_done) / static_cast<float>(full.parts);
    ImGui::ProgressBar(share, ImVec2(-1.0F, 6.0F), "");
    figure_row("tracing", fmt::format("{:.0f} %", 100.0F * share));
    if (wide_button("Stop")) actions.push_back(act::CancelFullTrace{});
    return;
  }
  if (session::shows_full_trace(session)) {
    const optics::TraceResult& result = *full.result;
    figure_row("rays traced", fmt::format("{:.2f} million", static_cast<double>(result.rays) / 1e6),
               "Scrambled low-discrepancy points; the same rays for any number of workers");
    figure_row("standard error", widgets::watts(result.standard_error_W),
               "Of the watts on the receiver, from independent repetitions");
    figure_row("seed", fmt::format("{}", result.seed));
    return;
  }
  for (const base::Problem& problem : full.problems) remark(base::to_line(problem).c_str());
  remark("Shown: the quick evaluation, without noise. The full trace starts when you rest.");
  if (wide_button("Trace every ray now")) actions.push_back(act::StartFullTrace{});
}

/// Cuts through the middle of the light, and what a circle about it holds.
void show_curves(const session::Session& session, const optics::TraceResult& light) {
  const base::Vec2& middle = light.centroid_m;
  const double half_m = session::receiver_half_m(session).x;
  using optics::Cut;
  widgets::chart({.id = "cuts",
                  .height = 108.0F,
                  .lines = {{.name = "along right",
                             .curve = optics::cut_through(light.map, Cut::along_right, middle)},
                            {.name = "along up",
                             .curve = optics::cut_through(light.map, Cut::along_up, middle),
                             .is_second = true}},
                  .x_per_unit = base::mm_from_m(1.0),
                  .y_per_unit = 1e-3,
                  .x_unit = "mm",
                  .y_unit = "kW/m²",
                  .x_mark = half_m,
                  .hint =
                      "Flux along two lines through the centroid, across the target card and up "
                      "it. The thin rules are the receiver's edges along right."});
  ImGui::Spacing();
  widgets::chart(
      {.id = "encircled",
       .height = 96.0F,
       .lines = {{.curve = optics::encircled_power(light.map, middle, light.power_plane_W)}},
       .x_per_unit = base::mm_from_m(1.0),
       .y_per_unit = 100.0,
       .x_unit = "mm",
       .y_unit = "%",
       .hint = "Share of all light in the receiver's plane within a circle about the centroid."});
}

std::string name_of(const dish::Dish& dish, const optics::Culprit& culprit) {
  using Kind = optics::Culprit::Kind;
  switch (culprit.kind) {
    case Kind::receiver:
      return "the receiver";
    case Kind::secondary:
      return "the secondary";
    case Kind::blocker:
      return dish.blockers[culprit.index].name;
    case Kind::facet:
      return "facet " + dish.facets[culprit.index].id.text;
  }
  return {};
}

void show_culprits(const session::Session& session, session::Actions& actions) {
  constexpr std::size_t k_most_named = 8;
  if (!session.shadows.value) {
    remark("Found when you rest.");
    return;
  }
  const std::vector<optics::Culprit>& culprits = session.shadows.value->culprits;
  if (culprits.empty()) {
    remark("Nothing: every facet sees the sun, and its light gets away.");
    return;
  }
  for (std::size_t i = 0; i < std::min(culprits.size(), k_most_named); ++i) {
    const optics::Culprit& culprit = culprits[i];
    figure_row(name_of(session.document.dish, culprit).c_str(),
               fmt::format("{} in, {} out", widgets::watts(culprit.shaded_W),
                           widgets::watts(culprit.blocked_W)),
               "Sunlight it keeps from the facets, and reflected light it stops (before what the "
               "mirrors absorb). Found with perfect mirrors at a few points of the sun's disc.");
  }
  if (culprits.size() > k_most_named) {
    remark(fmt::format("and {} more that take less", culprits.size() - k_most_named).c_str());
  }
  if (session.preferences.tint != session::Tint::shadow &&
      wide_button("Paint shadows on the glass")) {
    actions.push_back(act::SetTint{session::Tint::shadow});
  }
}

void show_ledger(const optics::TraceResult& light) {
  figure_row("sunlight on the aperture", widgets::watts(light.ledger.incident_W));
  for (const session::WattShare& share : session::watt_shares(light.ledger)) {
    figure_row(
        share.name.c_str(),
        fmt::format("{}   {:5.1f} %", widgets::watts(share.watts), 100.0 * share.of_incident),
        share.hint);
  }
}

void show_facets(const session::Session& session, const optics::TraceResult& light,
                 session::Actions& actions) {
  remark("power on the receiver in W; middle of its light (right, up) and rms radius in mm");
  if (!begin_facet_table("light", {"W", "right", "up", "rms"}, light.facets.size())) return;
  for_rows(light.facets.size(), [&](std::size_t i) {
    const optics::FacetFigures& facet = light.facets[i];
    facet_cell(facet.id, session, actions);
    number_cell(fmt::format("{:.1f}", facet.power_W));
    number_cell(fmt::format("{:+.1f}", base::mm_from_m(facet.centroid_m.x)));
    number_cell(fmt::format("{:+.1f}", base::mm_from_m(facet.centroid_m.y)));
    number_cell(fmt::format("{:.1f}", base::mm_from_m(facet.rms_radius_m)));
  });
  end_table();
}

}  // namespace

void show_light_bench(const session::Session& session, LightMemory& memory,
                      session::Actions& actions) {
  ImGui::TextUnformatted("The sun beside the axis");
  show_tracking(session, memory, actions);
  section("Mirrors");
  show_facet_type_rows(session.document.dish, memory.fields, memory.type, actions);
  section("Full trace");
  show_full_trace(session, actions);
  const optics::TraceResult* light = session::light_of(session);
  if (light == nullptr) {
    for (const base::Problem& problem : session.live.problems) {
      remark(base::to_line(problem).c_str());
    }
    return;
  }
  section("Spot");
  show_curves(session, *light);
  section("What stands in the light");
  show_culprits(session, actions);
  section("Ledger");
  show_ledger(*light);
  section("What each error costs");
  show_budget_rows(session, actions);
  section("Search for better");
  show_search_rows(session, memory.search, memory.fields, actions);
  section("Facets");
  show_facets(session, *light, actions);
}

}  // namespace page
