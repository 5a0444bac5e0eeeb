// The document: exactly what a dish file holds, and nothing that can be computed from it.
// Changed only through dish/edit.h, so that page, tests and replay share one way.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dish/facet.h"
#include "dish/mount.h"
#include "dish/optics_parts.h"
#include "dish/rounds.h"

namespace dish {

/// A key that this version does not know, kept word for word and written back.
struct UnknownKey {
  std::string place;  ///< path of the object it stands in, e.g. "receiver" or "facets/A3"
  std::string key;
  std::string json;  ///< its value as JSON text
};

struct Dish {
  std::string name = "New dish";
  std::string note;
  double focal_length_m = 2.0;  ///< of the parent paraboloid z = r^2 / (4 f)
  Sun sun;
  Site site;
  std::vector<FacetType> facet_types;
  std::vector<Mount> mounts;
  std::vector<Spring> springs;
  std::vector<Facet> facets;
  std::optional<Secondary> secondary;
  Receiver receiver;
  std::vector<Blocker> blockers;
  std::vector<Round> rounds;
  std::vector<UnknownKey> unknown;
};

/// Look-ups by name; nullptr when there is none. Linear in the number of kinds, which is small.
const FacetType* find_facet_type(const Dish& dish, const FacetTypeName& name);
const Mount* find_mount(const Dish& dish, const MountName& name);
const Spring* find_spring(const Dish& dish, const SpringName& name);

/// Index of a facet by id; npos when there is none. For many look-ups build a FacetIndex.
inline constexpr std::size_t k_no_facet = static_cast<std::size_t>(-1);
std::size_t find_facet(const Dish& dish, const FacetId& id);

}  // namespace dish
