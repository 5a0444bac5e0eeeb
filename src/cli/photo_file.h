// Photographs from files, by what their first bytes say they are.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "cli/console.h"
#include "photo/image.h"

namespace cli {

inline constexpr std::size_t k_photo_file_cap_bytes = 400u << 20u;

/// A JPEG, PNG, PGM or PPM file ("-": standard input), upright as its Exif says. Problems name the
/// file: another kind, damaged or cut short, a size that photo::Reducer refuses, a kind that this
/// program was built without.
base::Result<photo::Image> read_photo_file(const Console& console, const std::string& path);

/// The readers of each kind; `name` is the problems' place.
base::Result<photo::Image> read_jpeg(std::string_view bytes, const std::string& name);
base::Result<photo::Image> read_png(std::string_view bytes, const std::string& name);

}  // namespace cli
