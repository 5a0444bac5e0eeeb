// How the camera was held, from the notes it puts into a photo's file.
#pragma once

#include <string_view>

namespace photo {

/// Orientation 1 to 8 from the bytes of a JPEG's APP1 segment ("Exif", two zero bytes, a TIFF
/// directory); 1 when there is none or it is broken.
/// Source: Exif 2.2 (JEITA CP-3451), tag 274 of the first directory.
int exif_orientation(std::string_view segment);

}  // namespace photo
