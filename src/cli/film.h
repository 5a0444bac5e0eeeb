// spots --film: photos that are frames of an edge crossing the dish twice.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "cli/command.h"
#include "naming/film.h"
#include "tasks/spots_task.h"

namespace cli {

struct Film {
  std::size_t first_frames = 0;  ///< of the first crossing, after the photo of the whole dish
  std::array<double, 2> directions_rad{naming::k_first_sweep_rad, naming::k_second_sweep_rad};
};

std::vector<Option> film_options();

/// Nothing without --film; problems are collected.
std::optional<Film> film_of(const Given& given, Collected& collected);

/// Problems: a frame that could not be read.
base::Result<std::vector<naming::FilmedCrossing>> crossings_of(const Film& film,
                                                               const tasks::SpotsReply& reply);

}  // namespace cli
