// Light and board as options, for every command that needs them.
#pragma once

#include <optional>
#include <vector>

#include "cli/command.h"
#include "dish/ranges.h"
#include "dish/rounds.h"

namespace cli {

/// Allowed numbers of a quantity, in its file unit.
Limits limits_of(dish::ranges::Quantity quantity);

/// --source with where it stands, and --board-mm with its directions.
std::vector<Option> sighting_options();

/// The light, when the options say; else nothing.
std::optional<dish::Source> read_source(const Given& given, Collected& collected);

/// The board, when the options say.
std::optional<dish::Board> read_board(const Given& given, Collected& collected);

}  // namespace cli
