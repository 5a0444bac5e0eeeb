// Lays the strip out: the facet and the person's side, the bracket's picture, three dials.
#include "page/panels/screw_strip.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <string>

#include "adjusters/screws.h"
#include "adjusters/springs.h"
#include "adjusters/turns.h"
#include "align/correct.h"
#include "base/units.h"
#include "dish/dish.h"
#include "page/bench/fields.h"
#include "page/look/fonts.h"
#include "page/look/theme.h"
#include "page/panels/bracket_picture.h"
#include "session/figures.h"
#include "session/told.h"

namespace page {
namespace {

namespace act = session::act;

constexpr float k_facet_column = 150.0F;
constexpr float k_text_width = 116.0F;
constexpr float k_least_dial = 48.0F;
constexpr float k_largest_dial = 84.0F;
constexpr float k_largest_picture = 100.0F;

/// Everything one dial needs to know.
struct Screw {
  const dish::Facet* facet = nullptr;
  const dish::Mount* mount = nullptr;
  const dish::Spring* spring = nullptr;
  std::size_t index = 0;
  std::optional<session::ToldTurn> told;          ///< and still to be made
  const align::ScrewCorrection* exact = nullptr;  ///< behind it, when a spot told it
  bool is_made = false;                           ///< the round's turns of this facet are logged

  [[nodiscard]] const dish::Adjuster& adjuster() const { return mount->adjusters[index]; }
  [[nodiscard]] double displacement_m() const { return facet->displacement_m[index]; }
};

void show_side_choice(const session::Session& session, session::Actions& actions) {
  const auto side = session.preferences.side;
  const bool back = side.value_or(dish::Side::back) == dish::Side::back;
  const std::string label =
      side ? (back ? "You stand behind" : "You stand in front") : "Where do you stand?";
  if (!side) ImGui::PushStyleColor(ImGuiCol_Text, look::theme().copper);
  if (ImGui::Button((label + "###side").c_str())) {
    actions.push_back(act::SetSide{side && back ? dish::Side::front : dish::Side::back});
  }
  if (!side) ImGui::PopStyleColor();
  hint_for_last(
      "Pictures and directions are drawn as seen from here. Behind: you face the "
      "brackets. In front: you face the mirrors, where the sun is. Click to change.");
}

void show_facet(const session::Session& session, const dish::Facet& facet,
                session::Actions& actions) {
  const align::Correction* correction = session::correction_of(session, facet.id);
  ImGui::BeginGroup();
  if (ImGui::ArrowButton("previous facet", ImGuiDir_Left)) actions.push_back(act::SelectNext{-1});
  hint_for_last("The facet before");
  ImGui::SameLine(0.0F, 6.0F);
  {
    const look::Font name(look::FontSize::large);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted(facet.id.text.c_str());
  }
  ImGui::SameLine(0.0F, 6.0F);
  if (ImGui::ArrowButton("next facet", ImGuiDir_Right)) actions.push_back(act::SelectNext{1});
  hint_for_last("The next facet");
  show_side_choice(session, actions);
  const look::Font small(look::FontSize::small);
  ImGui::PushTextWrapPos(ImGui::GetCursorPosX() + k_facet_column);
  if (correction != nullptr) {
    ImGui::TextUnformatted(fmt::format("tilt error {:.2f} mrad",
                                       base::mrad_from_rad(glm::length(correction->tilt_error_rad)))
                               .c_str());
    hint_for_last(correction->verdict_text.c_str());
  } else {
    ImGui::TextDisabled("no spot seen yet");
  }
  ImGui::PopTextWrapPos();
  ImGui::EndGroup();
}

/// A thin gauge of the travel between its ends, with the present place.
void show_travel(const Screw& screw) {
  const look::Theme& t = look::theme();
  const adjusters::Interval range = adjusters::working_range(screw.adjuster(), screw.spring);
  const double least = screw.adjuster().travel_min_m;
  const double most = screw.adjuster().travel_max_m;
  const ImVec2 at = ImGui::GetCursorScreenPos();
  const float width = k_text_width;
  const auto place = [&](double m) {
    return at.x + width * static_cast<float>(std::clamp((m - least) / (most - least), 0.0, 1.0));
  };
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  const float y = at.y + 6.0F;
  draw.AddLine({at.x, y}, {at.x + width, y}, t.rule, 2.0F);
  if (range.least < range.most)
    draw.AddLine({place(range.least), y}, {place(range.most), y}, t.ink_soft, 2.0F);
  draw.AddLine({place(0.0), y - 4.0F}, {place(0.0), y + 4.0F}, t.ink_faint);
  const bool beyond = screw.displacement_m() < range.least || screw.displacement_m() > range.most;
  draw.AddCircleFilled({place(screw.displacement_m()), y}, 4.0F, beyond ? t.danger : t.copper, 16);
  ImGui::Dummy(ImVec2(width, 12.0F));
  const adjusters::TravelLeft left =
      adjusters::travel_left(screw.adjuster(), screw.spring, screw.displacement_m());
  hint_for_last(fmt::format("Travel: {:.1f} mm left to the sun, {:.1f} mm left to the bracket",
                            base::mm_from_m(left.toward_sun_m),
                            base::mm_from_m(left.toward_bracket_m))
                    .c_str());
}

void show_told(const Screw& screw) {
  const look::Theme& t = look::theme();
  if (!screw.told) {
    ImGui::TextDisabled(screw.is_made ? "✓ turned" : "—");
    return;
  }
  const bool still = screw.told->clicks == 0;
  ImGui::PushStyleColor(ImGuiCol_Text, still ? t.ok : t.copper);
  const std::string arrow = still ? "✓ " : screw.told->clicks > 0 ? "↻ " : "↺ ";
  ImGui::TextUnformatted((arrow + (still ? "leave it"
                                         : adjusters::amount_text(std::abs(screw.told->clicks),
                                                                  screw.told->clicks_per_turn)))
                             .c_str());
  ImGui::PopStyleColor();
  std::string more = session::words_of(*screw.told, screw.told->seen_from);
  if (screw.exact != nullptr) {
    more += fmt::format("\nExactly {:+.3f} turns (clockwise +), ± {:.3f} from reading the spot.",
                        screw.exact->turns, screw.exact->sigma_turns);
  }
  if (!screw.told->finish.empty()) more += "\n" + screw.told->finish;
  hint_for_last(more.c_str());
}

void show_screw_text(const Screw& screw) {
  ImGui::BeginGroup();
  const bool back = screw.adjuster().turned_from == dish::Side::back;
  ImGui::TextUnformatted(
      fmt::format("{}, from the {}", screw.adjuster().label, back ? "back" : "front").c_str());
  show_told(screw);
  const look::Font small(look::FontSize::small);
  ImGui::PushStyleColor(ImGuiCol_Text, look::theme().ink_soft);
  const double turns = adjusters::turns_from_rise(screw.adjuster(), screw.displacement_m());
  ImGui::TextUnformatted(fmt::format("{:+.2f} turns", turns).c_str());
  hint_for_last(
      fmt::format("Where the screw stands now, from nominal: turns clockwise as seen from where it "
                  "is turned; its corner is {:+.2f} mm toward the sun",
                  base::mm_from_m(screw.displacement_m()))
          .c_str());
  show_travel(screw);
  const adjusters::SpringReading spring =
      adjusters::spring_at(screw.spring, screw.displacement_m());
  const bool fine =
      spring.state == adjusters::SpringState::ok || spring.state == adjusters::SpringState::none;
  if (!fine) ImGui::PushStyleColor(ImGuiCol_Text, look::theme().danger);
  if (screw.spring != nullptr) {
    ImGui::TextUnformatted(fmt::format("spring {}", adjusters::to_text(spring.state)).c_str());
  }
  if (!fine) ImGui::PopStyleColor();
  ImGui::PopStyleColor();
  ImGui::EndGroup();
}

void show_dial(const Screw& screw, const session::Session& session, float size, DialMemory& memory,
               session::Actions& actions) {
  const dish::Adjuster& adjuster = screw.adjuster();
  const double rise = adjusters::rise_per_turn_m(adjuster);
  DialView view{.label = adjuster.label.c_str(),
                .turns_now = screw.displacement_m() / rise,
                .clicks_per_turn = screw.mount->clicks_per_turn,
                .selected = session.selection.screw == static_cast<int>(screw.index)};
  if (screw.told) {
    view.turns_told = static_cast<double>(screw.told->clicks) / screw.told->clicks_per_turn;
  }
  const DialOutcome outcome = dial(("dial " + adjuster.label).c_str(), view, size, memory);
  hint_for_last(
      "Drag round to turn the screw (Shift: finely); the wheel turns it by one click. "
      "The copper mark is the slot's own; the arc is what the spot asks for.");
  const dish::edit::SetDisplacement now{screw.facet->id, static_cast<int>(screw.index),
                                        screw.displacement_m()};
  if (outcome.began) {
    actions.push_back(act::Select{screw.facet->id, static_cast<int>(screw.index)});
    actions.push_back(act::BeginDrag{dish::title_of(now)});
  }
  if (outcome.turns) {
    dish::edit::SetDisplacement moved = now;
    moved.displacement_m =
        std::clamp(*outcome.turns * rise, adjuster.travel_min_m, adjuster.travel_max_m);
    actions.push_back(act::Change{moved});
  }
  if (outcome.cancelled) actions.push_back(act::CancelDrag{});
  if (outcome.ended && !outcome.cancelled) actions.push_back(act::EndDrag{});
}

void show_screws(const session::Session& session, const dish::Facet& facet,
                 const dish::Mount& mount, float size, StripMemory& memory,
                 session::Actions& actions) {
  const align::Correction* correction = session::correction_of(session, facet.id);
  const auto told = session::told_turns(session, facet.id);
  const bool is_made = session::is_turned(session, facet.id);
  const dish::Spring* spring = dish::find_spring(session.document.dish, mount.spring);
  for (std::size_t k = 0; k < 3; ++k) {
    const Screw screw{&facet,
                      &mount,
                      spring,
                      k,
                      told && !is_made ? std::optional((*told)[k]) : std::nullopt,
                      correction != nullptr ? &correction->screws[k] : nullptr,
                      is_made};
    if (k > 0) ImGui::SameLine(0.0F, 8.0F);
    show_dial(screw, session, size, memory.dials[k], actions);
    ImGui::SameLine(0.0F, 8.0F);
    show_screw_text(screw);
  }
}

}  // namespace

void show_screw_strip(const session::Session& session, StripMemory& memory,
                      session::Actions& actions) {
  const dish::Dish& dish = session.document.dish;
  const std::optional<std::size_t> selected = session::selected_facet(session);
  if (!selected) {
    remark(
        "Pick a facet in the picture, on the target card or in a table: its three screws "
        "appear here.");
    return;
  }
  const dish::Facet& facet = dish.facets[*selected];
  const float height = ImGui::GetContentRegionAvail().y;
  show_facet(session, facet, actions);
  const dish::Mount* mount = dish::find_mount(dish, facet.mount);
  ImGui::SameLine(k_facet_column + 24.0F);
  if (mount == nullptr || mount->adjusters.size() != 3) {
    remark("This facet has no mount with three adjusters, so there is nothing to turn.");
    return;
  }
  const float columns = 3.0F * (k_text_width + 16.0F);
  const float room = ImGui::GetContentRegionAvail().x - columns;
  const bool roomy = room > 3.0F * k_least_dial + k_largest_picture;
  if (roomy) {
    bracket_picture(session, facet, *mount, std::min(height, k_largest_picture), actions);
    ImGui::SameLine(0.0F, 8.0F);
  }
  const float dials = room - (roomy ? k_largest_picture : 0.0F) - 20.0F;
  const float size = std::clamp(dials / 3.0F, k_least_dial, std::min(height, k_largest_dial));
  show_screws(session, facet, *mount, size, memory, actions);
}

}  // namespace page
