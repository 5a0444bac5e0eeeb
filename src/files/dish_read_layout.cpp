// A layout in the file instead of facets: expanded once, by the same edit that the page uses.
#include <fmt/format.h>

#include "dish/edit.h"
#include "files/dish_read_parts.h"

namespace files {
namespace {

using dish::ranges::Quantity;

constexpr std::array<Word<int>, 3> k_layout_kinds{{{0, "rings"}, {1, "lattice"}, {2, "petals"}}};
constexpr std::array<Word<int>, 3> k_frames{{{0, "flat"}, {1, "paraboloid"}, {2, "sphere"}}};

void read_frame(ObjectReader& object, dish::LayoutFrame& frame) {
  int kind = static_cast<int>(frame.index());
  object.choice("frame", k_frames, kind);
  if (kind == 0) {
    dish::FlatFrame flat;
    object.number(Quantity::frame_z, flat.z_m);
    frame = flat;
  }
  if (kind == 1) frame = dish::ParabolicFrame{};
  if (kind == 2) {
    dish::SphericalFrame sphere;
    object.require("frame_radius_m", dish::ranges::range_text(Quantity::frame_radius));
    object.number(Quantity::frame_radius, sphere.radius_m);
    frame = sphere;
  }
}

void read_left_out(ObjectReader& object, std::vector<int>& rings) {
  const JsonValue* list = object.find_array("left_out");
  if (list == nullptr) return;
  rings.clear();
  for (std::size_t i = 0; i < list->children.size() && !object.log().full(); ++i) {
    double ring = 0.0;
    const JsonValue& item = list->children[i];
    if (object.list_number(item, at_index("left_out", i), Quantity::ring_count, ring)) {
      rings.push_back(static_cast<int>(ring));
    }
  }
}

dish::Layout read_rings(ObjectReader& object, const dish::Facet& common) {
  dish::RingsLayout rings{.type = common.type, .mount = common.mount};
  object.whole(Quantity::ring_count, rings.rings);
  read_left_out(object, rings.left_out);
  object.number(Quantity::layout_pitch, rings.pitch_m);
  read_frame(object, rings.frame);
  return rings;
}

dish::Layout read_lattice(ObjectReader& object, const dish::Facet& common) {
  dish::LatticeLayout lattice{.type = common.type, .mount = common.mount};
  object.whole(Quantity::column_count, lattice.columns);
  object.whole(Quantity::row_count, lattice.rows);
  object.number("column_pitch_mm", Quantity::layout_pitch, lattice.column_pitch_m);
  object.number("row_pitch_mm", Quantity::layout_pitch, lattice.row_pitch_m);
  object.number("free_within_mm", Quantity::layout_radius, lattice.free_within_m);
  double beyond = 0.0;
  if (object.number("free_beyond_mm", Quantity::layout_radius, beyond)) {
    lattice.free_beyond_m = beyond;
  }
  read_frame(object, lattice.frame);
  return lattice;
}

dish::PetalRing read_petal_ring(ReadLog& log, const JsonValue& value, const std::string& place,
                                std::size_t i) {
  dish::PetalRing ring{.type = {fmt::format("petal {}", i + 1)}};
  ObjectReader object(log, value, place, "petal_ring");
  object.require("inner_radius_mm", dish::ranges::range_text(Quantity::inner_radius));
  object.require("outer_radius_mm", dish::ranges::range_text(Quantity::outer_radius));
  object.number(Quantity::inner_radius, ring.inner_radius_m);
  object.number(Quantity::outer_radius, ring.outer_radius_m);
  object.whole(Quantity::petal_count, ring.count);
  object.number("first_deg", Quantity::clocking, ring.first_rad);
  object.name("type", ring.type.text);
  object.finish();
  return ring;
}

dish::Layout read_petals(ObjectReader& object, const dish::Facet& common) {
  dish::PetalsLayout petals{.mount = common.mount};
  petals.rings.clear();
  object.require("petal_rings", "a list of rings, from the inside outward");
  read_list(object, "petal_rings",
            [&](std::size_t i, const JsonValue& item, const std::string& at) {
              petals.rings.push_back(read_petal_ring(object.log(), item, at, i));
            });
  object.number(Quantity::layout_gap, petals.gap_m);
  read_frame(object, petals.frame);
  return petals;
}

}  // namespace

dish::Layout read_layout(ObjectReader& root, const dish::Dish& dish) {
  const dish::Facet common = facet_of_only_kinds(dish);
  const JsonValue* value = root.find("layout");
  if (value == nullptr) return dish::RingsLayout{.type = common.type, .mount = common.mount};
  ObjectReader object(root.log(), *value, "layout", "layout");
  object.require("kind", list_of_words(k_layout_kinds));
  int kind = 0;
  object.choice("kind", k_layout_kinds, kind);
  dish::Facet named = common;
  if (kind != 2) object.name("type", named.type.text);
  object.name("mount", named.mount.text);
  dish::Layout layout;
  if (kind == 0) layout = read_rings(object, named);
  if (kind == 1) layout = read_lattice(object, named);
  if (kind == 2) layout = read_petals(object, named);
  object.finish();
  return layout;
}

void expand_layout(ReadLog& log, int line, const dish::Layout& layout, dish::Dish& dish) {
  base::Result<dish::Dish> laid = dish::apply(dish, dish::edit::ReplaceFacets{layout});
  if (!laid) {
    for (const base::Problem& problem : laid.problems()) {
      log.problem(line, inside("layout", problem.place), problem.value, problem.expected);
    }
    return;
  }
  dish = std::move(laid).value();
  log.note(line, "layout", fmt::format("laid out as {} facets", dish.facets.size()));
}

}  // namespace files
