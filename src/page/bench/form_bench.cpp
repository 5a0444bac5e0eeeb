// The order of the bench: what the mirrors are now, what each choice of forms would give, what each
// facet by itself would like best, and how the mirrors fail their form.
#include "page/bench/form_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"
#include "page/bench/facet_type_rows.h"
#include "page/bench/mirror_rows.h"
#include "page/bench/study_rows.h"
#include "page/bench/table.h"
#include "page/look/theme.h"
#include "page/widgets/numbers.h"
#include "session/figures.h"

namespace page {
namespace {

namespace act = session::act;

std::string moulds_text(const optics::FormOption& option) {
  return option.moulds == 0 ? "none" : fmt::format("{}", option.moulds);
}

std::string sag_text(const optics::FormOption& option) {
  const double least = base::mm_from_m(option.least_sag_m);
  const double most = base::mm_from_m(option.most_sag_m);
  if (most < 0.05) return "flat";
  if (most - least < 0.05) return fmt::format("{:.1f} mm", most);
  return fmt::format("{:.1f} to {:.1f} mm", least, most);
}

/// As short as the column is narrow.
std::string title_of(const optics::FormOption& option) {
  using Kind = optics::FormKind;
  switch (option.kind) {
    case Kind::as_is:
      return "as it is";
    case Kind::flat:
      return "all flat";
    case Kind::common_sphere:
      return "one sphere";
    case Kind::common_paraboloid:
      return "one paraboloid";
    case Kind::groups:
      return fmt::format("{} spheres", option.moulds);
    case Kind::own_sphere:
      return "own spheres";
    case Kind::own_piece:
      return "own pieces";
  }
  return {};
}

/// One choice as a row of the table; pressing it shows its particulars below.
void show_option_row(const optics::FormOption& option, std::size_t index, FormMemory& memory) {
  ImGui::TableNextColumn();
  if (ImGui::Selectable(title_of(option).c_str(), memory.option == index,
                        ImGuiSelectableFlags_SpanAllColumns)) {
    memory.option = index;
  }
  hint_for_last(optics::words_of(option.kind));
  number_cell(moulds_text(option));
  number_cell(fmt::format("{:.0f}", option.receiver_W));
  number_cell(fmt::format("{:.1f}", base::mm_from_m(option.spot_r90_m)));
}

void show_options(const optics::FormChoice& choice, FormMemory& memory) {
  remark("watts on the receiver, and the radius in mm that holds 90 % of the light");
  if (!begin_table("forms", {"form", "moulds", "W", "mm"}, choice.options.size())) return;
  for_rows(choice.options.size(),
           [&](std::size_t i) { show_option_row(choice.options[i], i, memory); });
  end_table();
  remark(fmt::format("Suggested: {}, the fewest moulds within 1 % of the most watts.",
                     optics::words_of(choice.options[choice.recommended].kind))
             .c_str());
}

void show_option(const session::Session& session, const optics::FormChoice& choice,
                 const FormMemory& memory, session::Actions& actions) {
  const optics::FormOption& option = choice.options[memory.option];
  ImGui::Spacing();
  figure_row("spot, rms radius", widgets::millimetres(option.spot_rms_m),
             "Of the whole dish's light about its middle, with the sun and all errors");
  figure_row("peak", widgets::figures(option.peak_concentration, 3) + " suns",
             "Greatest flux over a small disc, in suns of the direct light");
  figure_row("height of the edge", sag_text(option),
             "Of the highest edge point over the facet's centre: how deep the mould is");
  if (!option.radius_m.empty() && option.radius_m.size() <= 6) {
    std::string radii;
    for (const double radius : option.radius_m) {
      radii += (radii.empty() ? "" : ", ") + widgets::figures(radius, 4);
    }
    figure_row("radii of the moulds", radii + " m", "Of curvature, at the facet's centre");
  }
  if (option.kind == optics::FormKind::as_is) return;
  const bool is_present = session::is_of_present_dish(session, session.studies.forms);
  if (wide_button("Form the facets so", is_present, "The dish has changed: work it out again")) {
    actions.push_back(act::TakeForms{option.kind, option.moulds});
  }
  hint_for_last(
      "Gives every facet its surface of this choice, as new facet types where needed. One "
      "undo step.");
}

void show_best_forms(const session::Session& session, const optics::FormChoice& choice,
                     session::Actions& actions) {
  remark(
      "the sphere that suits each facet best, in m; the height of its edge, in mm; the rms spot "
      "it and a flat mirror would throw of a point sun, in mm");
  if (!begin_facet_table("best forms", {"radius", "edge", "sphere", "flat"},
                         choice.facets.size())) {
    return;
  }
  for_rows(choice.facets.size(), [&](std::size_t i) {
    const optics::BestForm& best = choice.facets[i];
    facet_cell(best.id, session, actions);
    number_cell(fmt::format("{:.3f}", best.sphere_radius_m));
    number_cell(fmt::format("{:.2f}", base::mm_from_m(best.sphere_sag_m)));
    number_cell(fmt::format("{:.2f}", base::mm_from_m(best.sphere_rms_m)));
    number_cell(fmt::format("{:.0f}", base::mm_from_m(best.flat_rms_m)));
  });
  end_table();
}

void show_study(const session::Session& session, FormMemory& memory, session::Actions& actions) {
  const session::Study<tasks::FormReply>& forms = session.studies.forms;
  if (study_row(session,
                {.kind = session::StudyKind::forms,
                 .ask = "Work out the forms",
                 .again = "Work out the forms again",
                 .hint = "Solves the best surface of every facet for its place and aim, and judges "
                         "flat, one sphere, one paraboloid, a few moulds and each its own by the "
                         "light of the whole dish."},
                actions)) {
    actions.push_back(act::StartForms{});
  }
  if (!forms.reply) {
    remark(
        "A facet needs another curvature the farther it stands from the middle. How many "
        "different moulds that is worth is what this stage works out.");
    return;
  }
  const optics::FormChoice& choice = forms.reply->choice;
  if (memory.shown_job != forms.job || memory.option >= choice.options.size()) {
    memory.option = choice.recommended;
    memory.shown_job = forms.job;
  }
  show_options(choice, memory);
  show_option(session, choice, memory, actions);
  section("What each facet would like best");
  show_best_forms(session, choice, actions);
}

}  // namespace

void show_form_bench(const session::Session& session, FormMemory& memory,
                     session::Actions& actions) {
  ImGui::TextUnformatted("The mirrors now");
  const dish::Dish& dish = session.document.dish;
  show_facet_type_rows(dish, memory.fields, memory.type, actions);
  section("What shape, and how many moulds");
  show_study(session, memory, actions);
  if (memory.type < dish.facet_types.size()) {
    section("How they differ from their form");
    show_form_error_rows(dish.facet_types[memory.type], memory.fields, actions);
  }
}

}  // namespace page
