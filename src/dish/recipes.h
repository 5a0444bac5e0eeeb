// Layouts that make facets: one of several recipes, and what they share.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/result.h"
#include "dish/facet.h"
#include "dish/recipes_lattice.h"
#include "dish/recipes_petals.h"
#include "dish/recipes_rings.h"

namespace dish {

/// The most facets a dish may have.
inline constexpr std::size_t k_most_facets = 10000;

using Layout = std::variant<RingsLayout, LatticeLayout, PetalsLayout>;

/// Facets of any layout.
base::Result<std::vector<Facet>> lay_out(const Layout& layout, double focal_length_m);

/// Letters of the n-th ring, n >= 1: A, B, ..., Z, AA, AB, ...
std::string ring_letters(int n);

/// Normal of a facet at `centre_m` that sends a sun on the axis to the focus (0, 0, f): the
/// bisector of +z and the direction to the focus. For laying out only; canting in use goes through
/// the secondary and to each facet's own aim. +z where there is no bisector: at the focus, and
/// straight above it.
base::Vec3 prime_focus_normal(const base::Vec3& centre_m, double focal_length_m);

}  // namespace dish
