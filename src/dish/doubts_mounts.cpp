// Doubts about screws and springs, each told once for all facets it concerns.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <map>
#include <set>

#include "base/units.h"
#include "dish/doubts.h"
#include "dish/outline_facts.h"
#include "dish/part_checks.h"
#include "dish/spring_facts.h"

namespace dish {
namespace {

using base::mm_from_m;

/// What is wrong with a spring at a displacement; empty when nothing is.
std::string spring_fault(const Spring& spring, double displacement_m) {
  const double length = spring_length_m(spring, displacement_m);
  if (length <= spring.solid_length_m)
    return fmt::format("the spring is pressed solid ({:.1f} mm; its coils touch at {:.1f} mm)",
                       mm_from_m(length), mm_from_m(spring.solid_length_m));
  const double force = spring_force_N(spring, displacement_m);
  if (length >= spring.free_length_m || force < spring.least_force_N)
    return fmt::format("the spring is slack ({:.1f} N; {:.1f} N hold the facet)", force,
                       spring.least_force_N);
  return {};
}

/// At nominal once for the mount, at both ends of the travel for each screw.
void add_spring_doubts(std::vector<Finding>& findings, const Mount& mount, const Spring& spring) {
  const std::string at_nominal = spring_fault(spring, 0.0);
  if (!at_nominal.empty()) {
    add_doubt(findings, place_of(mount.name), "with all screws at nominal " + at_nominal);
    return;
  }
  for (std::size_t i = 0; i < mount.adjusters.size(); ++i) {
    const Adjuster& screw = mount.adjusters[i];
    for (const double end : {screw.travel_min_m, screw.travel_max_m}) {
      const std::string fault = spring_fault(spring, end);
      if (fault.empty()) continue;
      add_doubt(findings, place_of_screw(mount, i),
                fmt::format("at the end of its travel ({:+.1f} mm) {}", mm_from_m(end), fault));
    }
  }
}

void add_travel_doubts(std::vector<Finding>& findings, const Mount& mount) {
  for (std::size_t i = 0; i < mount.adjusters.size(); ++i) {
    const Adjuster& screw = mount.adjusters[i];
    if (screw.travel_min_m == 0.0 && screw.travel_max_m == 0.0)
      add_doubt(findings, place_of_screw(mount, i),
                "its travel is nothing both ways: it cannot be turned");
  }
}

/// Where a facet's screws stand now, against their travel and their spring.
void add_standing_doubts(std::vector<Finding>& findings, const Facet& facet, const Mount& mount,
                         const Spring* spring) {
  for (std::size_t i = 0; i < 3; ++i) {
    const Adjuster& screw = mount.adjusters[i];
    const double at = facet.displacement_m[i];
    const std::string place = fmt::format("{}, screw {}", place_of(facet.id), screw.label);
    if (at < screw.travel_min_m || at > screw.travel_max_m) {
      add_doubt(
          findings, place,
          fmt::format("stands at {:+.2f} mm, beyond its travel of {:+.1f} to {:+.1f} mm",
                      mm_from_m(at), mm_from_m(screw.travel_min_m), mm_from_m(screw.travel_max_m)));
    } else if (spring != nullptr && at != 0.0) {
      const std::string fault = spring_fault(*spring, at);
      if (!fault.empty() && spring_fault(*spring, 0.0).empty())
        add_doubt(findings, place,
                  fmt::format("stands at {:+.2f} mm, where {}", mm_from_m(at), fault));
    }
  }
}

/// A screw that stands further from the centre than any edge of the facet cannot meet its back.
void add_edge_doubts(std::vector<Finding>& findings, const FacetType& type, const Mount& mount) {
  const double reach = bounding_radius(type.outline);
  for (std::size_t i = 0; i < mount.adjusters.size(); ++i) {
    const double at = std::hypot(mount.adjusters[i].x_m, mount.adjusters[i].y_m);
    if (at <= reach) continue;
    add_doubt(findings, place_of_screw(mount, i),
              fmt::format("stands {:.0f} mm from the centre, beyond the edge of {} ({:.0f} mm)",
                          mm_from_m(at), place_of(type.name), mm_from_m(reach)));
  }
}

}  // namespace

std::string places_of(const std::vector<FacetId>& ids) {
  constexpr std::size_t k_named = 3;
  std::string text = ids.size() == 1 ? "facet " : "facets ";
  const std::size_t shown = ids.size() <= k_named + 1 ? ids.size() : k_named;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += i + 1 == ids.size() ? " and " : ", ";
    text += ids[i].text;
  }
  if (shown < ids.size()) text += fmt::format(" and {} more", ids.size() - shown);
  return text;
}

std::vector<Finding> mount_doubts(const Dish& dish) {
  std::vector<Finding> findings;
  for (const Mount& mount : dish.mounts) {
    add_travel_doubts(findings, mount);
    const Spring* spring = find_spring(dish, mount.spring);
    if (spring != nullptr) add_spring_doubts(findings, mount, *spring);
  }
  std::vector<FacetId> unmounted;
  std::set<std::pair<FacetTypeName, MountName>> pairs;
  for (const Facet& facet : dish.facets) {
    const Mount* mount = find_mount(dish, facet.mount);
    if (mount == nullptr) {
      unmounted.push_back(facet.id);
      continue;
    }
    add_standing_doubts(findings, facet, *mount, find_spring(dish, mount->spring));
    const FacetType* type = find_facet_type(dish, facet.type);
    if (type != nullptr && pairs.insert({facet.type, facet.mount}).second)
      add_edge_doubts(findings, *type, *mount);
  }
  if (!unmounted.empty())
    add_doubt(findings, places_of(unmounted), "no mount is named, so no turns can be told");
  return findings;
}

std::vector<Finding> round_doubts(const Dish& dish) {
  std::map<FacetId, MountName> mount_of;
  for (const Facet& facet : dish.facets) mount_of.insert({facet.id, facet.mount});
  std::vector<Finding> findings;
  for (std::size_t i = 0; i < dish.rounds.size(); ++i) {
    for (const Turned& turned : dish.rounds[i].turned) {
      const auto found = mount_of.find(turned.facet);
      if (found == mount_of.end()) continue;
      const Mount* mount = find_mount(dish, found->second);
      bool known = false;
      if (mount != nullptr)
        for (const Adjuster& screw : mount->adjusters) known = known || screw.label == turned.screw;
      if (!known)
        add_doubt(findings, place_of_round(dish, i),
                  fmt::format("tells turns of screw {} of {}, which has no screw of that label",
                              turned.screw, place_of(turned.facet)));
    }
  }
  return findings;
}

}  // namespace dish
