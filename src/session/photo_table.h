// What the readings of photos share: their order, and what must be forgotten with them.
#pragma once

#include <cstddef>
#include <vector>

#include "session/session.h"

namespace session {

/// Places of the photos in the order of their names, numbers by their value; those of one name in
/// the order they came in.
std::vector<std::size_t> in_name_order(const PhotoWork& work);

/// What was found, or is being looked for, is of photos and a board that are no longer.
void forget_reading(Session& session);

}  // namespace session
