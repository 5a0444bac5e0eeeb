// A measured sag map as a table in text.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "dish/form_error.h"

namespace files {

/// Largest text that is looked at.
inline constexpr std::size_t k_sag_map_cap_bytes = 16u << 20u;

/// Reads a grid of heights in mm: the first row a word and then the u of each column in mm, every
/// further row its v in mm and then its heights. Both rise in even steps (to a hundredth of a
/// step), which are kept to whole nanometres; rows may also be listed from the top down.
/// Comma, semicolon or tab; a decimal comma where the separator is none; # comments.
/// Problems, at most 20 in one go, name file, line and column: no grid of 2 to 500 columns and
/// rows, uneven steps, rows of another length, fields that are empty, no numbers or out of range.
base::Result<dish::SagMap> read_sag_map(std::string_view bytes, std::string_view file_name);

/// The same table as canonical CSV: comma, LF, v rising.
std::string write_sag_map(const dish::SagMap& map);

}  // namespace files
