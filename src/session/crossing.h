// Spots named by an edge that crosses the dish twice while a camera films the board: frames of the
// film as photos, in the order of their names.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

/// What a photo of the film is: 0 the whole dish, 1 and 2 the crossings. Of other sets all show the
/// whole dish.
int crossing_of(const PhotoWork& work, std::size_t photo);
bool is_of_whole_dish(const PhotoWork& work, std::size_t photo);

/// Place of a photo among those that are read: the first of the whole dish, then both crossings.
std::optional<std::size_t> place_in_film(const PhotoWork& work, std::size_t photo);

/// Of a frame within a crossing, in a few words.
std::string standing_of_frame(const Session& session, std::size_t photo);

/// What is missing before the film can be read; empty when nothing is.
std::string missing_for_crossings(const PhotoWork& work);

void read_crossings(Session& session);

/// Gives the whole dish's spots to facets by when they went out (see naming/edge_sweep). Problems:
/// those of naming::identify_by_sweeps, frames that were not read.
base::Result<naming::Identification> identify_by_crossings(
    const Session& session, const naming::IdentifyTarget& target,
    const std::vector<naming::BoardSpot>& spots);

}  // namespace session
