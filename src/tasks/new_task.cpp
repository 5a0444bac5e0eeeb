// Turns wishes into a dish: facet kind, layout, mount, receiver and secondary that fit each other.
#include "tasks/new_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/units.h"
#include "dish/checks.h"
#include "dish/defaults.h"
#include "tasks/new_parts.h"

namespace tasks {
namespace {

constexpr double k_default_gap_m = 0.020;
constexpr double k_default_petal_gap_m = 0.010;
constexpr double k_default_facet_m = 0.230;

/// Wishes that belong to another layout than the one asked for.
base::Problems misplaced(const NewRequest& request) {
  base::Problems problems;
  const auto add = [&](const char* key, LayoutKind only_with) {
    problems.push_back({key, fmt::format("given with the layout {}", to_text(request.layout)),
                        fmt::format("only with the layout {}", to_text(only_with))});
  };
  for (const NewNumber& wish : new_numbers()) {
    if (wish.only_with && *wish.only_with != request.layout && request.*wish.member) {
      add(wish.key, *wish.only_with);
    }
  }
  for (const NewList& wish : new_lists()) {
    if (wish.only_with != request.layout && request.*wish.member) add(wish.key, wish.only_with);
  }
  if (request.layout == LayoutKind::petals) {
    const std::string value = "given with the layout petals";
    if (request.shape) problems.push_back({"shape", value, "only with rings or lattice"});
    if (request.facet_m) problems.push_back({"facet_mm", value, "radii_mm and petals instead"});
    if (request.pitch_m) problems.push_back({"pitch_mm", value, "radii_mm and petals instead"});
  }
  return problems;
}

/// Facet, gap and pitch: any two give the third.
struct Spacing {
  double facet_m = k_default_facet_m;
  double pitch_m = k_default_facet_m + k_default_gap_m;
};
base::Result<Spacing> spacing_of(const NewRequest& request) {
  if (request.facet_m && request.pitch_m && request.gap_m) {
    return base::Problem{"facet_mm, gap_mm, pitch_mm", "all three given", "two of them"};
  }
  const double gap = request.gap_m.value_or(k_default_gap_m);
  Spacing spacing;
  if (request.facet_m) {
    spacing.facet_m = *request.facet_m;
  } else if (request.pitch_m) {
    spacing.facet_m = *request.pitch_m - gap;
  }
  spacing.pitch_m = request.pitch_m.value_or(spacing.facet_m + gap);
  if (!dish::ranges::in_range(dish::ranges::Quantity::across_flats, spacing.facet_m)) {
    return base::Problem{"pitch_mm",
                         fmt::format("{} mm with a gap of {} mm", spacing.pitch_m * 1e3, gap * 1e3),
                         "a pitch that leaves room for a facet"};
  }
  return spacing;
}

dish::LayoutFrame frame_of(const NewRequest& request, double focal_length_m) {
  const FrameKind usual =
      request.layout == LayoutKind::lattice ? FrameKind::flat : FrameKind::parabolic;
  switch (request.frame.value_or(usual)) {
    case FrameKind::flat:
      return dish::FlatFrame{.z_m = request.frame_z_m.value_or(0.0)};
    case FrameKind::parabolic:
      return dish::ParabolicFrame{};
    case FrameKind::spherical:
      break;
  }
  return dish::SphericalFrame{.radius_m = request.frame_radius_m.value_or(2.0 * focal_length_m)};
}

base::Problems problems_of_frame(const NewRequest& request) {
  base::Problems problems;
  const bool lattice = request.layout == LayoutKind::lattice;
  const FrameKind frame = request.frame.value_or(lattice ? FrameKind::flat : FrameKind::parabolic);
  if (request.frame_z_m && frame != FrameKind::flat) {
    problems.push_back({"frame_z_mm", "given without a flat frame", "frame flat"});
  }
  if (request.frame_radius_m && frame != FrameKind::spherical) {
    problems.push_back({"frame_radius_m", "given without a spherical frame", "frame spherical"});
  }
  return problems;
}

dish::Outline outline_of(FacetShape shape, double size_m) {
  switch (shape) {
    case FacetShape::hexagon:
      return dish::Hexagon{.across_flats_m = size_m};
    case FacetShape::square:
      return dish::Rectangle{.width_m = size_m, .height_m = size_m};
    case FacetShape::disc:
      break;
  }
  return dish::Disc{.diameter_m = size_m};
}

std::vector<int> whole(const std::vector<double>& values) {
  std::vector<int> result;
  for (const double value : values) result.push_back(static_cast<int>(value));
  return result;
}

int whole_or(const std::optional<double>& value, int fallback) {
  return value ? static_cast<int>(*value) : fallback;
}

/// A dish with its facet types and its layout, without a mount of its own size yet.
struct LaidOut {
  dish::Layout layout;
  double facet_m = 0.0;  ///< the least width of a facet, for its mount
};

base::Result<LaidOut> lay_straight(dish::Dish& dish, const NewRequest& request,
                                   const dish::FacetType& kind) {
  const auto spacing = spacing_of(request);
  if (!spacing) return spacing.problems();
  const bool rings = request.layout == LayoutKind::rings;
  const FacetShape shape = request.shape.value_or(rings ? FacetShape::hexagon : FacetShape::square);
  dish::FacetType type = kind;
  type.name = {new_words()[1].allowed[static_cast<std::size_t>(shape)]};
  type.outline = outline_of(shape, spacing.value().facet_m);
  dish.facet_types = {type};
  const dish::LayoutFrame frame = frame_of(request, dish.focal_length_m);
  const double pitch = spacing.value().pitch_m;
  if (rings) {
    return LaidOut{
        dish::RingsLayout{.rings = whole_or(request.rings, 3),
                          .left_out = whole(request.leave_out.value_or(std::vector<double>{0.0})),
                          .pitch_m = pitch,
                          .frame = frame,
                          .type = type.name,
                          .mount = dish.mounts[0].name},
        spacing.value().facet_m};
  }
  return LaidOut{dish::LatticeLayout{.columns = whole_or(request.columns, 5),
                                     .rows = whole_or(request.rows, 5),
                                     .column_pitch_m = pitch,
                                     .row_pitch_m = request.row_pitch_m.value_or(pitch),
                                     .free_within_m = request.free_within_m.value_or(0.0),
                                     .free_beyond_m = request.free_beyond_m,
                                     .frame = frame,
                                     .type = type.name,
                                     .mount = dish.mounts[0].name},
                 spacing.value().facet_m};
}

base::Result<LaidOut> lay_petals(dish::Dish& dish, const NewRequest& request,
                                 const dish::FacetType& kind) {
  const std::vector<double> radii = request.radii_m.value_or(std::vector<double>{0.3, 0.6});
  if (radii.size() < 2) {
    return base::Problem{"radii_mm", "one number", "at least two, the bounds of a ring"};
  }
  const std::vector<double> petals =
      request.petals.value_or(std::vector<double>(radii.size() - 1, 12.0));
  if (petals.size() != radii.size() - 1) {
    return base::Problem{"petals", fmt::format("{} numbers", petals.size()),
                         fmt::format("{}, one for each ring of radii_mm", radii.size() - 1)};
  }
  dish::PetalsLayout layout{.rings = {},
                            .gap_m = request.gap_m.value_or(k_default_petal_gap_m),
                            .frame = frame_of(request, dish.focal_length_m),
                            .mount = dish.mounts[0].name};
  double least = radii.back();
  for (std::size_t ring = 0; ring < petals.size(); ++ring) {
    layout.rings.push_back({.inner_radius_m = radii[ring],
                            .outer_radius_m = radii[ring + 1],
                            .count = static_cast<int>(petals[ring]),
                            .first_rad = 0.0,
                            .type = {"petal " + dish::ring_letters(static_cast<int>(ring) + 1)}});
    const double chord = base::k_pi * (radii[ring] + radii[ring + 1]) / petals[ring];
    least = std::min({least, radii[ring + 1] - radii[ring], chord});
  }
  for (std::size_t ring = 0; ring < petals.size(); ++ring) {
    const auto outline = dish::petal_outline(layout, ring, dish.focal_length_m);
    if (!outline) return outline.problems();
    dish::FacetType type = kind;
    type.name = layout.rings[ring].type;
    type.outline = outline.value();
    dish.facet_types.push_back(type);
  }
  return LaidOut{layout, least};
}

}  // namespace

base::Result<dish::Dish> make_dish(const NewRequest& request) {
  base::Problems problems = misplaced(request);
  for (base::Problem& problem : problems_of_frame(request)) problems.push_back(std::move(problem));
  for (base::Problem& problem : problems_of_parts(request)) problems.push_back(std::move(problem));
  if (!problems.empty()) return problems;
  dish::Dish dish;
  dish.name = request.name;
  dish.focal_length_m = request.focal_length_m.value_or(dish.focal_length_m);
  dish.sun.dni_W_m2 = request.dni_W_m2.value_or(dish.sun.dni_W_m2);
  dish.springs = {dish::default_spring()};
  dish.mounts = {dish::default_mount()};
  const dish::FacetType kind = facet_kind(request, dish.focal_length_m);
  const auto laid = request.layout == LayoutKind::petals ? lay_petals(dish, request, kind)
                                                         : lay_straight(dish, request, kind);
  if (!laid) return laid.problems();
  dish.mounts[0] = mount_for(request, laid.value().facet_m);
  auto facets = dish::lay_out(laid.value().layout, dish.focal_length_m);
  if (!facets) return facets.problems();
  dish.facets = std::move(facets).value();
  add_receiver(request, dish);
  if (base::Problems unsolved = add_secondary(request, dish); !unsolved.empty()) return unsolved;
  if (base::Problems errors = dish::errors_of(dish); !errors.empty()) return errors;
  return dish;
}

}  // namespace tasks
