// Sittings that the tests of this folder start from.
#pragma once

#include <string>

#include "session/session.h"

namespace sitting {

/// A sitting on a dish, everything derived, nothing to undo.
session::Session on(dish::Dish dish);

/// Larch Refuge with its screws at nominal and no rounds: what is displaced is what a test
/// displaces.
session::Session at_nominal();

/// The dish as the bytes of its file: two dishes are the same when these are.
std::string bytes_of(const session::Session& session);

std::string id_of(const session::Session& session, std::size_t facet);
std::string first_facet(const session::Session& session);

/// Lets a worker answer the newest job.
void answer(session::Session& session);

/// A wish that turns one screw.
session::Action displace(const std::string& facet, int screw, double displacement_m);

/// True when a notice's title or lines hold this text.
bool says(const session::Session& session, const std::string& text);

}  // namespace sitting
