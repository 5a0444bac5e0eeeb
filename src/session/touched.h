// What an edit can have changed, so that results are only made anew where they must be.
#pragma once

#include <cstdint>
#include <vector>

#include "dish/edit.h"
#include "dish/ids.h"

namespace session {

/// Facets whose stance alone changed, or everything that light and screws depend on. Neither: only
/// words and observations changed.
struct Touched {
  bool everything = false;
  std::vector<dish::FacetId> facets;  ///< each once, in the order they were touched
};

/// What an edit touches. Never too little: what is not known to be narrow is everything.
Touched touched_by(const dish::Edit& edit);

/// Beyond so many facets, making everything anew is less work than one facet after the other.
inline constexpr std::size_t k_most_touched_facets = 8;

void add(Touched& touched, const Touched& more);

/// What has happened since the derived results were last brought up to date.
struct Pending {
  Touched touched{.everything = true, .facets = {}};
  std::uint64_t revision = 0;  ///< of the document up to which `touched` tells everything
  bool sun = true;             ///< the sun the light is computed for has moved
  bool plan = true;            ///< another round is shown, or corrections are wanted otherwise
};

}  // namespace session
