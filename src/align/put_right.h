// One-tap corrections of the log: what was really done, as an edit of the dish.
#pragma once

#include <cstddef>
#include <string>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace align {

/// "I turned it the wrong way": the facet's logged turns with their signs changed; of one screw, or
/// of all when no label is given. The as-built displacements follow, unless a later round logged
/// turns of this facet, whose spot then already told where the screws stand.
/// Problems: no such round, facet or screw; nothing logged of it.
base::Result<dish::edit::AmendTurns> turned_wrong_way(const dish::Dish& dish, std::size_t round,
                                                      const dish::FacetId& facet,
                                                      const std::string& screw = "");

/// "I turned another screw": turns logged for `told` were made at `really`, and those logged for
/// `really`, if any, at `told`.
base::Result<dish::edit::AmendTurns> turned_other_screw(const dish::Dish& dish, std::size_t round,
                                                        const dish::FacetId& facet,
                                                        const std::string& told,
                                                        const std::string& really);

/// "I did not turn it": of one screw, or of all when no label is given.
base::Result<dish::edit::AmendTurns> not_turned(const dish::Dish& dish, std::size_t round,
                                                const dish::FacetId& facet,
                                                const std::string& screw = "");

/// Takes the last round back: its screws stand where its spots found them.
base::Result<dish::edit::UndoRound> take_back_last(const dish::Dish& dish);

}  // namespace align
