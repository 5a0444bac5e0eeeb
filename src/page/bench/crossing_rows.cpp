// The film's parts and the edge's ways.
#include "page/bench/crossing_rows.h"

#include <imgui.h>

#include "session/crossing.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

}  // namespace

void show_crossing_rows(const session::Session& session, FieldMemory& fields,
                        session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  const std::string missing = session::missing_for_crossings(work);
  if (!missing.empty()) remark(missing.c_str());
  if (ImGui::Button("The first crossing begins here")) {
    actions.push_back(act::BeginCrossing{work.chosen, 1});
  }
  hint_for_last(
      "With the photo that is shown; those before it show the whole dish. Photos go by "
      "their names, and stand for equal times within a crossing");
  if (ImGui::Button("The second crossing begins here")) {
    actions.push_back(act::BeginCrossing{work.chosen, 2});
  }
  hint_for_last("With the photo that is shown, all facets uncovered again");
  act::SetCrossings ways{work.crossing.first_rad, work.crossing.second_rad};
  const char* hint =
      "Where the edge moves to, seen from the sun: 0 to the right, 90 to the top of the dish. "
      "About "
      "11 and 101 degrees are best, so that no two facets go out at once";
  bool is_changed = false;
  const auto way = [&](const char* label, double& rad) {
    if (const auto changed = plain_number_row({label, Quantity::meridian, rad, hint}, fields)) {
      rad = *changed;
      is_changed = true;
    }
  };
  way("first edge to", ways.first_rad);
  way("second edge to", ways.second_rad);
  if (is_changed) actions.push_back(ways);
}

}  // namespace page
