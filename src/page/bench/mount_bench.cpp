// The mount's own numbers, one screw's numbers, the spring, and the table of caliper heights.
#include "page/bench/mount_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <string>

#include "base/units.h"
#include "dish/dish.h"
#include "page/bench/caliper_table.h"
#include "page/bench/spring_rows.h"

namespace page {
namespace {

using dish::Mount;
using dish::ranges::Quantity;

/// An edit that changes a copy of the mount with the new value.
template <class Change>
std::function<dish::Edit(double)> changing(const Mount& mount, Change change) {
  return [mount, change](double si) {
    Mount changed = mount;
    change(changed, si);
    return dish::edit::UpsertMount{changed};
  };
}

/// Pushes a changed copy of the mount that a choice or a switch asked for.
template <class Change>
void change_mount(const Mount& mount, session::Actions& actions, Change change) {
  Mount changed = mount;
  change(changed);
  actions.push_back(session::act::Change{dish::edit::UpsertMount{changed}});
}

void show_mount_choice(const dish::Dish& dish, MountMemory& memory) {
  std::vector<std::string> names;
  for (const Mount& mount : dish.mounts) names.push_back(mount.name.text);
  memory.mount = std::min(memory.mount, dish.mounts.size() - 1);
  const auto chosen = choice_row("mount", names, static_cast<int>(memory.mount));
  if (chosen) memory.mount = static_cast<std::size_t>(*chosen);
}

void show_mount(const Mount& mount, MountMemory& memory, session::Actions& actions) {
  if (const auto chosen = choice_row("bracket lies", {"with the facet", "with the aperture"},
                                     static_cast<int>(mount.lie),
                                     "Parallel to the facet at its nominal tilt, or flat in the "
                                     "aperture plane so that the screws also make the canting")) {
    change_mount(mount, actions, [&](Mount& m) { m.lie = static_cast<dish::BracketLie>(*chosen); });
  }
  number_row({"balls to face", Quantity::face_offset, mount.face_offset_m,
              "From the plane through the screw ends to the reflecting face"},
             memory.fields, actions,
             changing(mount, [](Mount& m, double si) { m.face_offset_m = si; }));
  number_row({"standoff", Quantity::standoff, mount.standoff_m,
              "From the bracket's reference face to the screw ends, at nominal"},
             memory.fields, actions,
             changing(mount, [](Mount& m, double si) { m.standoff_m = si; }));
  number_row({"caliper adds", Quantity::caliper_offset, mount.caliper_offset_m,
              "What the caliper reads beyond the height itself: plate, ball, nut"},
             memory.fields, actions,
             changing(mount, [](Mount& m, double si) { m.caliper_offset_m = si; }));
  number_row(
      {"clicks in a turn", Quantity::clicks_per_turn, static_cast<double>(mount.clicks_per_turn),
       "The smallest step a hand makes: 12 is the clock face, 6 the flats of a hexagon"},
      memory.fields, actions,
      changing(mount, [](Mount& m, double si) { m.clicks_per_turn = static_cast<int>(si); }));
  number_row({"beyond and back", Quantity::backlash, mount.backlash_turns,
              "How far past the mark a screw goes that must end in the loading direction"},
             memory.fields, actions,
             changing(mount, [](Mount& m, double si) { m.backlash_turns = si; }));
}

void show_screw_choice(const Mount& mount, MountMemory& memory) {
  std::vector<std::string> labels;
  for (const dish::Adjuster& adjuster : mount.adjusters) labels.push_back(adjuster.label);
  memory.screw = std::min(memory.screw, mount.adjusters.size() - 1);
  const auto chosen = choice_row("screw", labels, static_cast<int>(memory.screw));
  if (chosen) memory.screw = static_cast<std::size_t>(*chosen);
}

void show_screw_numbers(const Mount& mount, MountMemory& memory, session::Actions& actions) {
  const std::size_t k = memory.screw;
  const dish::Adjuster& adjuster = mount.adjusters[k];
  const auto row = [&](const char* label, Quantity quantity, double dish::Adjuster::*member,
                       const char* hint) {
    number_row({label, quantity, adjuster.*member, hint}, memory.fields, actions,
               changing(mount, [k, member](Mount& m, double si) { m.adjusters[k].*member = si; }));
  };
  row("to the right", Quantity::screw_x, &dish::Adjuster::x_m,
      "On the bracket, as seen from the sun");
  row("up", Quantity::screw_y, &dish::Adjuster::y_m, "On the bracket");
  row("pitch", Quantity::screw_pitch, &dish::Adjuster::pitch_m,
      "Lead of the thread: M5 0.8, M6 1.0, M8 1.25 (ISO coarse)");
  row("travel down", Quantity::travel_min, &dish::Adjuster::travel_min_m,
      "Furthest displacement toward the bracket");
  row("travel up", Quantity::travel_max, &dish::Adjuster::travel_max_m,
      "Furthest displacement toward the sun");
}

void show_screw_build(const Mount& mount, MountMemory& memory, session::Actions& actions) {
  const std::size_t k = memory.screw;
  const dish::Adjuster& adjuster = mount.adjusters[k];
  if (const auto chosen =
          choice_row("thread", {"right-hand", "left-hand"}, static_cast<int>(adjuster.hand))) {
    change_mount(mount, actions,
                 [&](Mount& m) { m.adjusters[k].hand = static_cast<dish::Hand>(*chosen); });
  }
  if (const auto chosen = choice_row("turned from", {"the back", "the front"},
                                     static_cast<int>(adjuster.turned_from))) {
    change_mount(mount, actions,
                 [&](Mount& m) { m.adjusters[k].turned_from = static_cast<dish::Side>(*chosen); });
  }
  if (const auto chosen = choice_row(
          "facet goes", {"with it", "against it"}, static_cast<int>(adjuster.carry),
          "With it: the turned part carries the facet (a screw that pushes it). Against it: the "
          "turned part stays in the bracket and the facet carries the mating thread.")) {
    change_mount(mount, actions,
                 [&](Mount& m) { m.adjusters[k].carry = static_cast<dish::Carry>(*chosen); });
  }
  const double rise = base::mm_from_m(adjusters::rise_per_turn_m(adjuster));
  remark(fmt::format("One turn clockwise, seen from the {}, moves this corner {:.2f} mm {}.",
                     adjuster.turned_from == dish::Side::back ? "back" : "front", std::abs(rise),
                     rise > 0.0 ? "toward the sun" : "toward the bracket")
             .c_str());
}

}  // namespace

void show_mount_bench(const session::Session& session, MountMemory& memory,
                      session::Actions& actions) {
  const dish::Dish& dish = session.document.dish;
  if (dish.mounts.empty()) {
    remark("This dish has no mount yet, so its facets cannot be adjusted.");
    if (wide_button("Add a mount with three M6 screws")) add_default_mount(dish, actions);
    return;
  }
  show_mount_choice(dish, memory);
  const Mount& mount = dish.mounts[memory.mount];
  show_mount(mount, memory, actions);
  if (!mount.adjusters.empty()) {
    section("Screw");
    show_screw_choice(mount, memory);
    show_screw_numbers(mount, memory, actions);
    show_screw_build(mount, memory, actions);
  }
  section("Spring");
  show_spring_rows(dish, mount, memory.fields, actions);
  section("Caliper heights");
  show_caliper_table(session, actions);
}

}  // namespace page
