// Rows of a look back.
#include "page/bench/look_back_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include "page/look/theme.h"
#include "session/look_back.h"
#include "session/photos.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void show_screen_and_camera(const session::LookBackWork& look, FieldMemory& fields,
                            session::Actions& actions) {
  act::SetLookBack settings{look.screen, look.camera_m, look.before_m};
  bool is_changed = false;
  const auto number = [&](const NumberRow& row, double& value) {
    if (const auto changed = plain_number_row(row, fields)) {
      value = *changed;
      is_changed = true;
    }
  };
  number({"screen's width", Quantity::board_side, look.screen.width_m,
          "Of its lit part, which the fringes fill"},
         settings.screen.width_m);
  number({"screen's height", Quantity::board_side, look.screen.height_m, "Of its lit part"},
         settings.screen.height_m);
  number({"before the receiver", Quantity::before_focus, look.before_m,
          "How much nearer to the facets than the receiver the screen stands. With a secondary, "
          "which is taken off: how far inside the focus"},
         settings.before_m);
  const char* labels[3] = {"camera at x", "camera at y", "camera at z"};
  for (int axis = 0; axis < 3; ++axis) {
    number({labels[axis], Quantity::lamp_position, look.camera_m[axis],
            "Where the camera stands in the dish's frame: x to the right seen from the sun, y up, "
            "z to the sun. A centimetre sideways is as good as exact"},
           settings.camera_m[axis]);
  }
  if (is_changed) actions.push_back(settings);
  if (ImGui::Button("Fringes for the screen")) actions.push_back(act::ExportFringes{});
  hint_for_last("A page that fills the screen with the eight pictures, one after the other");
}

/// Where the person points at the middles of facets.
void show_pointing(const session::Session& session, PhotoCanvas& canvas,
                   session::Actions& actions) {
  if (canvas.pointing_facet) {
    remark(fmt::format("Click the middle of facet {} in the photo.", canvas.pointing_facet->text)
               .c_str());
    if (ImGui::Button("Stop pointing")) canvas.pointing_facet.reset();
    return;
  }
  remark(session::standing_of_look_back(session).c_str());
  if (const auto next = session::next_facet_to_point(session)) {
    if (wide_button(fmt::format("Point at facet {}", next->text).c_str())) {
      canvas.pointing_facet = next;
    }
    note_last_item("point at the next facet");
    hint_for_last(
        "The facet farthest from those pointed at already: four tell where all are, one "
        "or two more check them");
  }
  std::vector<std::string> names{"choose a facet"};
  for (const dish::Facet& facet : session.document.dish.facets) names.push_back(facet.id.text);
  if (const auto chosen = choice_row("or at", names, 0, "Any facet that you are sure of")) {
    if (*chosen > 0) {
      canvas.pointing_facet =
          session.document.dish.facets[static_cast<std::size_t>(*chosen - 1)].id;
    }
  }
  const auto& pointed = session.photo_work.look_back.pointed;
  if (pointed.empty()) return;
  if (ImGui::Button("Take the last point back")) {
    actions.push_back(act::PointAtFacet{pointed.back().facet, {}});
  }
}

void show_fringe_reading(const session::Session& session, session::Actions& actions) {
  const auto& study = session::standing_of(session, session::StudyKind::look_back);
  if (study.state == session::StudyState::running) {
    ImGui::ProgressBar(static_cast<float>(study.share), ImVec2(-1.0F, 6.0F), "");
    if (wide_button("Stop reading")) {
      actions.push_back(act::StopStudy{session::StudyKind::look_back});
    }
    return;
  }
  if (wide_button("Read the fringes", session::can_read_look_back(session),
                  "Eight photos, and four facets pointed at")) {
    actions.push_back(act::ReadPhotos{});
  }
  for (const base::Problem& problem : study.problems) remark(base::to_line(problem).c_str());
}

/// Facets that could not be read, each a sentence that can be clicked.
void show_not_read(const session::Session& session, session::Actions& actions) {
  const auto& reply = session.studies.look_back.reply;
  if (!reply) return;
  for (const std::string& note : reply->notes) remark(note.c_str());
  for (const tasks::LookBackFacet& facet : reply->facets) {
    if (facet.sentence.empty()) continue;
    ImGui::PushStyleColor(ImGuiCol_Text, look::theme().doubt);
    paragraph(facet.sentence);
    ImGui::PopStyleColor();
    if (ImGui::IsItemClicked()) actions.push_back(act::Select{facet.facet});
  }
}

}  // namespace

void show_look_back_rows(const session::Session& session, PhotoMemory& memory,
                         session::Actions& actions) {
  section("Screen and camera");
  show_screen_and_camera(session.photo_work.look_back, memory.fields, actions);
  section("Where the facets are");
  show_pointing(session, memory.canvas, actions);
  section("Fringes");
  show_fringe_reading(session, actions);
  show_not_read(session, actions);
  if (wide_button("Take the facets read as a round", session::can_take_photos(session),
                  "No facet is read yet")) {
    actions.push_back(act::TakePhotoSpots{});
  }
  if (wide_button("Back to the turns")) actions.push_back(act::ShowPhotos{false});
  remark(
      "Never with the sun within 30 degrees of the dish's axis. The screen stands at the receiver "
      "and faces the facets; the camera stands on a stand far away and does not move; eight photos "
      "in the order of the pictures, their names rising.");
}

}  // namespace page
