// From top to bottom in the order of the work: photos, board, marks, reading, doubts, taking.
#include "page/bench/photo_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <optional>
#include <set>
#include <string>

#include "base/units.h"
#include "page/bench/crossing_rows.h"
#include "page/bench/look_back_rows.h"
#include "page/bench/study_rows.h"
#include "page/look/theme.h"
#include "session/photos.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

act::SetPhotoSettings settings_of(const session::PhotoWork& work) {
  return {.board_width_m = work.board.width_m,
          .board_height_m = work.board.height_m,
          .before_focus_m = work.before_focus_m,
          .groups = work.groups,
          .prior_rad = work.prior_rad,
          .reference = work.reference};
}

void show_kind(const session::PhotoWork& work, session::Actions& actions) {
  if (const auto chosen = choice_row(
          "they show", {"spots on board", "edge crossing", "screen fringes"},
          static_cast<int>(work.kind),
          "Spots: the board inside the focus, in sunlight. An edge: the same board, filmed while a "
          "cloth is drawn across the dish twice, which tells whose spot is whose. Fringes: the "
          "dish itself, a screen at the receiver seen in its facets, no sun")) {
    actions.push_back(act::SetPhotoKind{static_cast<session::PhotoKind>(*chosen)});
  }
}

void show_reference(const session::PhotoWork& work, session::Actions& actions) {
  if (const auto on = switch_row("covered dish", work.reference == work.chosen,
                                 "A photo of the board with every facet covered: what it shows is "
                                 "taken off the others")) {
    auto settings = settings_of(work);
    settings.reference = *on ? std::optional(work.chosen) : std::nullopt;
    actions.push_back(settings);
  }
}

void show_photos(const session::Session& session, session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  show_kind(work, actions);
  std::vector<std::string> names;
  names.reserve(work.photos.size());
  for (const session::BoardPhoto& photo : work.photos) names.push_back(photo.name);
  if (const auto chosen = choice_row("photo", names, static_cast<int>(work.chosen),
                                     "Drop more photos on the page to add them")) {
    actions.push_back(act::ChoosePhoto{static_cast<std::size_t>(*chosen)});
  }
  remark(session::standing_of_photo(session, work.chosen).c_str());
  if (work.kind == session::PhotoKind::spots) show_reference(work, actions);
  if (ImGui::Button("Put this photo away")) actions.push_back(act::DropPhoto{work.chosen});
}

/// In how many groups the facets are uncovered; true when it changed.
bool show_groups(const session::PhotoWork& work, act::SetPhotoSettings& settings) {
  static constexpr std::array<std::size_t, 5> k_groups = {1, 2, 3, 4, 7};
  const auto now = std::find(k_groups.begin(), k_groups.end(), work.groups) - k_groups.begin();
  const auto chosen = choice_row(
      "uncovered", {"all at once", "every 2nd", "every 3rd", "every 4th", "every 7th"},
      static_cast<int>(now),
      "In how many groups facets are uncovered, one photo for each group in turn: when they "
      "stand off by more than 3 mrad, three groups; by more than 5, seven");
  if (chosen) settings.groups = k_groups[static_cast<std::size_t>(*chosen)];
  return chosen.has_value();
}

void show_board(const session::Session& session, FieldMemory& fields, session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  auto settings = settings_of(work);
  bool is_changed = false;
  const auto number = [&](const NumberRow& row, double& value) {
    if (const auto changed = plain_number_row(row, fields)) {
      value = *changed;
      is_changed = true;
    }
  };
  number({"board's width", Quantity::board_side, work.board.width_m, "Of the printed board"},
         settings.board_width_m);
  number({"board's height", Quantity::board_side, work.board.height_m, "Of the printed board"},
         settings.board_height_m);
  number({"before the focus", Quantity::before_focus, work.before_focus_m,
          "How far inside the focus the board stands, square to the axis; 0: at the focus. The "
          "farther, the wider the spots stand apart"},
         settings.before_focus_m);
  number({"facets stand off by", Quantity::tilt_prior, work.prior_rad,
          "Before the first round, per axis: about 3 mrad after setting by caliper, 10 when raw"},
         settings.prior_rad);
  if (work.kind == session::PhotoKind::spots)
    is_changed = show_groups(work, settings) || is_changed;
  if (is_changed) actions.push_back(settings);
  if (ImGui::Button("Board to print")) actions.push_back(act::ExportBoard{});
  hint_for_last("The board's marks at true scale, in pieces for the printer");
}

/// Where the person points at marks that were not found.
void show_marks(const session::Session& session, PhotoCanvas& canvas, session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  const auto marks = photo::marks_of(work.board);
  if (canvas.pointing) {
    remark(fmt::format("Click where you see the mark at the {}.", marks[*canvas.pointing].name)
               .c_str());
    if (ImGui::Button("Stop pointing")) canvas.pointing.reset();
    return;
  }
  std::vector<std::string> names{"choose a mark"};
  for (const photo::BoardMark& mark : marks) names.emplace_back(mark.name);
  if (const auto chosen = choice_row("point at", names, 0,
                                     "Only when the marks are not found by themselves: point at "
                                     "four of them or more")) {
    if (*chosen > 0) canvas.pointing = static_cast<std::size_t>(*chosen - 1);
  }
  if (work.photos[work.chosen].clicked.empty()) return;
  if (ImGui::Button("Take the points back")) {
    for (const photo::ClickedMark& mark : work.photos[work.chosen].clicked) {
      actions.push_back(act::PointAtMark{work.chosen, mark.mark, {}});
    }
  }
}

void show_reading(const session::Session& session, session::Actions& actions) {
  const session::StudyStanding& study = session::standing_of(session, session::StudyKind::spots);
  if (study.state == session::StudyState::running) {
    ImGui::ProgressBar(static_cast<float>(study.share), ImVec2(-1.0F, 6.0F), "");
    if (wide_button("Stop reading")) {
      actions.push_back(act::StopStudy{session::StudyKind::spots});
    }
    return;
  }
  if (wide_button("Find the spots")) actions.push_back(act::ReadPhotos{});
  hint_for_last("Finds the board's marks and the spots of light, and says whose each spot is");
  for (const base::Problem& problem : study.problems) remark(base::to_line(problem).c_str());
  for (const base::Problem& problem : session.photo_work.problems) {
    remark(base::to_line(problem).c_str());
  }
}

/// Doubts as sentences, each said once; a click on one takes its facet in hand.
class Doubts {
 public:
  void show(const std::string& sentence, const std::optional<dish::FacetId>& facet,
            session::Actions& actions) {
    if (sentence.empty() || !said_.insert(sentence).second) return;
    ImGui::PushStyleColor(ImGuiCol_Text, look::theme().doubt);
    paragraph(sentence);
    ImGui::PopStyleColor();
    if (ImGui::IsItemClicked() && facet) actions.push_back(act::Select{facet});
  }
  [[nodiscard]] bool is_empty() const { return said_.empty(); }

 private:
  std::set<std::string> said_;
};

void show_doubts(const session::Session& session, session::Actions& actions) {
  const session::PhotoWork& work = session.photo_work;
  if (!work.found) return;
  if (!work.found->common.sentence.empty()) remark(work.found->common.sentence.c_str());
  Doubts doubts;
  for (const session::NamedSpot& named : session::spots_of_photo(session, work.chosen)) {
    if (named.doubt != naming::Doubt::none) doubts.show(named.sentence, named.facet, actions);
  }
  for (const naming::Finding& finding : work.found->findings) {
    if (finding.doubt == naming::Doubt::missing && work.look_photos[finding.look] == work.chosen) {
      doubts.show(finding.sentence, std::nullopt, actions);
    }
  }
  if (doubts.is_empty()) remark("Every facet's spot is sure.");
}

}  // namespace

void show_photo_bench(const session::Session& session, PhotoMemory& memory,
                      session::Actions& actions) {
  section("Photos");
  show_photos(session, actions);
  if (session.photo_work.kind == session::PhotoKind::fringes) {
    show_look_back_rows(session, memory, actions);
    return;
  }
  const bool is_film = session.photo_work.kind == session::PhotoKind::crossing;
  if (is_film) {
    section("The film");
    show_crossing_rows(session, memory.fields, actions);
  }
  section("The board");
  show_board(session, memory.fields, actions);
  section("Its marks");
  show_marks(session, memory.canvas, actions);
  section("Spots");
  show_reading(session, actions);
  show_doubts(session, actions);
  if (wide_button("Take the sure spots as a round", session::can_take_photos(session),
                  "No spot has a sure facet yet")) {
    actions.push_back(act::TakePhotoSpots{});
  }
  if (wide_button("Back to the turns")) actions.push_back(act::ShowPhotos{false});
  remark(
      "Mask each facet to a small hole, stand the board inside the focus, and never look into the "
      "light: the camera does it for you. Wear dark glasses beside the board.");
}

}  // namespace page
