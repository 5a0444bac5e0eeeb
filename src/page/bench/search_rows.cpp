// What is sought, within which bounds, and what was found beside what is.
#include "page/bench/search_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include <variant>

#include "base/units.h"
#include "page/bench/study_rows.h"
#include "page/widgets/numbers.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void take_number(double& value, const NumberRow& row, FieldMemory& fields) {
  if (const auto changed = plain_number_row(row, fields)) value = *changed;
}

void show_aim_wishes(SearchMemory& memory, FieldMemory& fields) {
  if (const auto limited = switch_row("keep below a limit", memory.has_limit,
                                      "Else the flux is made as even as can be")) {
    memory.has_limit = *limited;
  }
  if (memory.has_limit) {
    take_number(memory.limit_W_m2,
                {"limit", Quantity::flux_limit, memory.limit_W_m2,
                 "Flux nowhere on the receiver above this"},
                fields);
  }
  take_number(memory.most_loss,
              {"give up at most", Quantity::share_given_up, memory.most_loss,
               "Share of the receiver's watts, 0 to 0.5"},
              fields);
}

void show_size_wishes(SearchMemory& memory, FieldMemory& fields) {
  take_number(memory.mean_concentration,
              {"mean concentration", Quantity::wanted_concentration, memory.mean_concentration,
               "In suns, over the receiver's face: the hotter it shall be, the more"},
              fields);
}

session::Action start(const SearchMemory& memory, const session::Session& session) {
  if (memory.what == 0) {
    optics::AimSettings settings{.most_loss = memory.most_loss,
                                 .tracking_error_rad = session.tracking_error_rad};
    if (memory.has_limit) settings.limit_W_m2 = memory.limit_W_m2;
    return act::StartSearch{settings};
  }
  // From half to twice the focal length the dish has.
  const double focal_length_m = session.document.dish.focal_length_m;
  return act::StartSearch{optics::SizeSettings{
      .mean_concentration = memory.mean_concentration,
      .focal_length_m = optics::Between{0.5 * focal_length_m, 2.0 * focal_length_m},
      .tracking_error_rad = session.tracking_error_rad}};
}

void show_figures(const optics::SearchFigures& before, const optics::SearchFigures& after) {
  figure_row(
      "on the receiver",
      fmt::format("{} → {}", widgets::watts(before.receiver_W), widgets::watts(after.receiver_W)),
      "Before and after, by the noise-free evaluation");
  figure_row("greatest flux",
             fmt::format("{} → {}", widgets::flux(before.most_flux_W_m2),
                         widgets::flux(after.most_flux_W_m2)),
             "Greatest mean over one cell of the map on the receiver");
  figure_row("evenness",
             fmt::format("{} → {}", widgets::percent(before.uniformity),
                         widgets::percent(after.uniformity)),
             "Mean over greatest flux on the receiver");
  figure_row("mean concentration",
             fmt::format("{} → {} suns", widgets::figures(before.mean_concentration, 3),
                         widgets::figures(after.mean_concentration, 3)));
}

void show_found(const optics::AimResult& found) {
  show_figures(found.before, found.after);
  if (!found.is_within_limit) remark("The limit could not be kept with so little given up.");
  if (found.held > 0) {
    remark(fmt::format("{} facets have a normal of their own, which no aim moves.", found.held)
               .c_str());
  }
}

void show_found(const optics::SizeResult& found) {
  show_figures(found.before, found.after);
  figure_row("focal length", fmt::format("{:.3f} m", found.best.focal_length_m));
  figure_row("receiver", widgets::millimetres(found.best.receiver_m),
             "Its diameter or longer side");
  if (found.is_at_bound) remark("The best lies at the end of what was searched.");
}

}  // namespace

void show_search_rows(const session::Session& session, SearchMemory& memory, FieldMemory& fields,
                      session::Actions& actions) {
  if (const auto chosen = choice_row("seek", {"an even flux", "the best sizes"}, memory.what)) {
    memory.what = *chosen;
  }
  (memory.what == 0 ? show_aim_wishes : show_size_wishes)(memory, fields);
  const auto& search = session.studies.search;
  if (study_row(session,
                {.kind = session::StudyKind::search,
                 .ask = "Search",
                 .again = "Search again",
                 .hint = "Runs beside the page and can be stopped; nothing changes until you take "
                         "what was found."},
                actions)) {
    actions.push_back(start(memory, session));
  }
  if (!search.reply) return;
  std::visit([](const auto& found) { show_found(found); }, search.reply->result);
  if (!session::is_of_present_dish(session, search)) return;
  if (wide_button("Take what was found")) actions.push_back(act::TakeSearch{});
  hint_for_last("Puts it into the dish as one undo step");
  if (wide_button("Search once more")) actions.push_back(start(memory, session));
}

}  // namespace page
