// Light and board of a round as settings of a request, for every task that needs them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "dish/dish.h"
#include "dish/ranges.h"
#include "tasks/settings.h"

namespace tasks {

/// Words of "source" and of --source, in the order of dish::Source's alternatives.
std::vector<std::string> source_words();

/// The key that says where a source of this word stands ("lamp_mm"); empty for one that stands
/// nowhere.
std::string place_key(const std::string& source_word);

/// Farthest that a source may stand along each axis.
inline constexpr double k_farthest_source_mm = 1e8;

/// A source of this word at this point; the point is ignored by those that stand nowhere.
dish::Source source_of(const std::string& word, const base::Vec3& position_m);

/// "source", "sun_x_mrad", "sun_y_mrad", "lamp_mm", "laser_mm", "camera_mm": the light, when the
/// request says; else nothing.
std::optional<dish::Source> read_source(Settings& settings);

/// "board" {centre_mm, lit_normal, up}.
std::optional<dish::Board> read_board(Settings& settings);

/// A number in the unit of its quantity as SI.
std::optional<double> number_in(Settings& settings, const std::string& key,
                                dish::ranges::Quantity quantity);

/// A source as replies tell it.
Json source_json(const dish::Source& source);

}  // namespace tasks
