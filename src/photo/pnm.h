// Photographs in the plainest of formats, for scripts and for machines without other readers.
#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "photo/image.h"

namespace photo {

/// Whether bytes start like such a file.
bool looks_like_pnm(std::string_view bytes);

/// A binary grey or colour map: "P5" or "P6", width, height and 255 as text with white space and
/// # comments between, one white space, then the samples, taken as sRGB.
/// Source: the pgm(5) and ppm(5) manual pages. Problems: another kind, other than 8 bits, a size
/// that Reducer::start refuses, too few bytes.
base::Result<Image> read_pnm(std::string_view bytes, const std::string& name);

}  // namespace photo
