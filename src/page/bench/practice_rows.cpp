// Start, look, ask, end.
#include "page/bench/practice_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "base/units.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void show_running(const session::PracticeWork& work, session::Actions& actions) {
  figure_row("practice", fmt::format("{}, {} looks", work.seed, work.looks),
             "Its number: the same number hides the same errors");
  if (wide_button("Look at the practice dish")) actions.push_back(act::PracticeLook{});
  hint_for_last("Logs a round with the hidden dish's spots, each read to 2 mm");
  if (work.told_rms_rad) {
    figure_row("really left",
               fmt::format("{:.2f} of {:.2f} mrad", base::mrad_from_rad(*work.told_rms_rad),
                           base::mrad_from_rad(work.start_rms_rad)),
               "Root mean square tilt of the hidden dish now, and at the beginning");
    if (!work.fault.empty()) remark(fmt::format("Hidden fault: {}.", work.fault).c_str());
  } else if (ImGui::Button("Tell what is left")) {
    actions.push_back(act::PracticeTell{});
  }
  if (ImGui::Button("End the practice")) actions.push_back(act::EndPractice{});
}

}  // namespace

void show_practice_rows(const session::Session& session, PracticeMemory& memory,
                        FieldMemory& fields, session::Actions& actions) {
  section("Practice");
  if (session.practice.on) {
    show_running(session.practice, actions);
    return;
  }
  remark(
      "Learn the procedure indoors: a dish with hidden errors shows you its spots, and hands that "
      "are a little off turn its screws.");
  if (const auto start = plain_number_row(
          {"hidden tilt", Quantity::tilt_prior, memory.start_rad, "Per axis, of every facet"},
          fields)) {
    memory.start_rad = *start;
  }
  if (const auto on = switch_row("hidden fault", memory.faults,
                                 "Perhaps the screws are numbered or cut otherwise than the file "
                                 "says: the trial of two facets finds it")) {
    memory.faults = *on;
  }
  if (wide_button("Begin a practice")) {
    actions.push_back(act::StartPractice{static_cast<std::uint64_t>(memory.seed++),
                                         memory.start_rad, memory.faults});
    if (!memory.faults) actions.push_back(act::PracticeLook{});
    if (memory.faults) actions.push_back(act::BeginTrial{});
  }
}

}  // namespace page
