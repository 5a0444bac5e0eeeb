// One small function for each recipe. Rows return true when they changed the recipe.
#include "page/bench/layout_rows.h"

#include <fmt/format.h>
#include <imgui.h>

#include <algorithm>
#include <variant>

#include "page/bench/fields.h"

namespace page {
namespace {

using dish::ranges::Quantity;

bool metres_row(const char* label, Quantity quantity, double& si, FieldMemory& memory,
                const char* hint = "") {
  const auto changed = plain_number_row({label, quantity, si, hint}, memory);
  if (changed) si = *changed;
  return changed.has_value();
}

bool count_row(const char* label, Quantity quantity, int& count, FieldMemory& memory) {
  double si = count;
  if (!metres_row(label, quantity, si, memory)) return false;
  count = static_cast<int>(si);
  return true;
}

bool frame_rows(dish::LayoutFrame& frame, FieldMemory& memory) {
  bool changed = false;
  if (const auto chosen =
          choice_row("frame", {"flat", "paraboloid", "sphere"}, static_cast<int>(frame.index()),
                     "The surface that facet centres stand on")) {
    if (*chosen == 0) frame = dish::FlatFrame{};
    if (*chosen == 1) frame = dish::ParabolicFrame{};
    if (*chosen == 2) frame = dish::SphericalFrame{};
    changed = true;
  }
  if (auto* flat = std::get_if<dish::FlatFrame>(&frame)) {
    changed |= metres_row("frame height", Quantity::frame_z, flat->z_m, memory);
  }
  if (auto* sphere = std::get_if<dish::SphericalFrame>(&frame)) {
    changed |= metres_row("frame radius", Quantity::frame_radius, sphere->radius_m, memory);
  }
  return changed;
}

/// One switch for each ring, the centre first.
bool ring_switches(dish::RingsLayout& layout) {
  bool changed = false;
  remark("rings with facets (0 is the centre)");
  for (int ring = 0; ring <= std::min(layout.rings, 8); ++ring) {
    const auto found = std::find(layout.left_out.begin(), layout.left_out.end(), ring);
    bool kept = found == layout.left_out.end();
    if (ring % 5 != 0) ImGui::SameLine();
    if (!ImGui::Checkbox(fmt::format("{}##ring", ring).c_str(), &kept)) continue;
    if (kept) layout.left_out.erase(found);
    if (!kept) layout.left_out.push_back(ring);
    changed = true;
  }
  return changed;
}

bool recipe_rows(dish::RingsLayout& layout, FieldMemory& memory) {
  bool changed = count_row("rings", Quantity::ring_count, layout.rings, memory);
  if (changed) {
    std::erase_if(layout.left_out, [&](int ring) { return ring > layout.rings; });
  }
  changed |= metres_row("pitch", Quantity::layout_pitch, layout.pitch_m, memory,
                        "Between the centres of neighbours");
  changed |= frame_rows(layout.frame, memory);
  return changed | ring_switches(layout);
}

bool recipe_rows(dish::LatticeLayout& layout, FieldMemory& memory) {
  bool changed = count_row("columns", Quantity::column_count, layout.columns, memory);
  changed |= count_row("rows", Quantity::row_count, layout.rows, memory);
  changed |= metres_row("column pitch", Quantity::layout_pitch, layout.column_pitch_m, memory);
  changed |= metres_row("row pitch", Quantity::layout_pitch, layout.row_pitch_m, memory);
  changed |= metres_row("free within", Quantity::layout_radius, layout.free_within_m, memory,
                        "Facets nearer to the axis are left out");
  return changed | frame_rows(layout.frame, memory);
}

bool petal_ring_rows(dish::PetalRing& ring, FieldMemory& memory) {
  bool changed = metres_row("from radius", Quantity::inner_radius, ring.inner_radius_m, memory);
  changed |= metres_row("to radius", Quantity::outer_radius, ring.outer_radius_m, memory);
  return changed | count_row("petals", Quantity::petal_count, ring.count, memory);
}

bool recipe_rows(dish::PetalsLayout& layout, FieldMemory& memory) {
  bool changed = false;
  for (std::size_t i = 0; i < layout.rings.size(); ++i) {
    ImGui::PushID(static_cast<int>(i));
    remark(fmt::format("ring {}", i + 1).c_str());
    changed |= petal_ring_rows(layout.rings[i], memory);
    ImGui::PopID();
  }
  if (layout.rings.size() < 4 && ImGui::Button("add a ring")) {
    dish::PetalRing next = layout.rings.back();
    const double depth = next.outer_radius_m - next.inner_radius_m;
    next.inner_radius_m = next.outer_radius_m + layout.gap_m;
    next.outer_radius_m = next.inner_radius_m + depth;
    next.type.text = fmt::format("petal {}", layout.rings.size() + 1);
    layout.rings.push_back(next);
    changed = true;
  }
  if (layout.rings.size() > 1) {
    ImGui::SameLine();
    if (ImGui::Button("take the last away")) {
      layout.rings.pop_back();
      changed = true;
    }
  }
  changed |= metres_row("gap", Quantity::layout_gap, layout.gap_m, memory);
  return changed | frame_rows(layout.frame, memory);
}

/// The kinds the new facets are of: the first of the dish, unless already chosen.
void fill_names(dish::Layout& layout, const dish::Dish& dish) {
  if (dish.facet_types.empty() || dish.mounts.empty()) return;
  const dish::FacetTypeName type = dish.facet_types.front().name;
  std::visit(
      [&](auto& l) {
        if (l.mount.text.empty()) l.mount = dish.mounts.front().name;
      },
      layout);
  if (auto* rings = std::get_if<dish::RingsLayout>(&layout)) {
    if (rings->type.text.empty()) rings->type = type;
  } else if (auto* lattice = std::get_if<dish::LatticeLayout>(&layout)) {
    if (lattice->type.text.empty()) lattice->type = type;
  } else if (auto* petals = std::get_if<dish::PetalsLayout>(&layout)) {
    for (std::size_t i = 0; i < petals->rings.size(); ++i) {
      if (petals->rings[i].type.text.empty()) {
        petals->rings[i].type.text = fmt::format("petal {}", i + 1);
      }
    }
  }
}

bool kind_row(dish::Layout& layout) {
  const auto chosen = choice_row("layout", {"hexagonal rings", "rows and columns", "petals"},
                                 static_cast<int>(layout.index()));
  if (!chosen) return false;
  if (*chosen == 0) layout = dish::RingsLayout{};
  if (*chosen == 1) layout = dish::LatticeLayout{};
  if (*chosen == 2) layout = dish::PetalsLayout{};
  return true;
}

/// The kind of the new facets, among those the dish has.
bool type_row(dish::Layout& layout, const dish::Dish& dish) {
  dish::FacetTypeName* type = nullptr;
  if (auto* rings = std::get_if<dish::RingsLayout>(&layout)) type = &rings->type;
  if (auto* lattice = std::get_if<dish::LatticeLayout>(&layout)) type = &lattice->type;
  if (type == nullptr) return false;
  std::vector<std::string> names;
  int now = -1;
  for (const dish::FacetType& t : dish.facet_types) {
    if (t.name == *type) now = static_cast<int>(names.size());
    names.push_back(t.name.text);
  }
  const auto chosen = choice_row("facet type", names, now);
  if (chosen) type->text = names[static_cast<std::size_t>(*chosen)];
  return chosen.has_value();
}

}  // namespace

void show_layout_rows(const session::Session& session, LayOutMemory& memory,
                      session::Actions& actions) {
  const dish::Dish& dish = session.document.dish;
  ImGui::PushID("layout");
  bool changed = kind_row(memory.layout);
  fill_names(memory.layout, dish);
  changed |= type_row(memory.layout, dish);
  std::visit([&](auto& recipe) { changed |= recipe_rows(recipe, memory.fields); }, memory.layout);
  const auto laid = dish::lay_out(memory.layout, dish.focal_length_m);
  if (laid.ok()) {
    const std::string label = fmt::format("Lay {} facets", laid.value().size());
    if (!memory.acting && wide_button(label.c_str())) memory.acting = changed = true;
    remark(memory.acting ? "Laid out: every change above lays the facets out anew. Facets that "
                           "keep their name keep their aim and their screws."
                         : "Replaces the facets of the dish; undo brings them back.");
    if (memory.acting && changed) {
      actions.push_back(session::act::Change{dish::edit::ReplaceFacets{memory.layout}});
    }
  } else {
    for (const base::Problem& problem : laid.problems()) remark(base::to_line(problem).c_str());
  }
  ImGui::PopID();
}

}  // namespace page
