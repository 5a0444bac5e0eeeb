// Which place of the screen is seen at a place of the photographs: from the brightness there in all
// eight of them.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "photo/fringes.h"
#include "photo/image.h"

namespace photo {

/// Where to read, in pixels of the photo before reduction.
struct FringePlace {
  base::Vec2 image_px{0.0, 0.0};
  double radius_px = 0.0;  ///< of the mirror around it
  double sigma_px = 0.0;   ///< how well the place is known, per axis
};

enum class FringeFault {
  none,
  outside,     ///< not wholly in the photo
  too_small,   ///< fewer than three pixels across
  too_bright,  ///< at the camera's full scale
  no_fringes,  ///< hardly any change from picture to picture
  unsteady,    ///< a change that is not the fringes'
  off_screen,  ///< a phase that no place of the screen has
};

struct FringeReading {
  FringeFault fault = FringeFault::none;
  base::Vec2 screen_m{0.0, 0.0};  ///< (right, up) on the screen
  base::Vec2 sigma_m{0.0, 0.0};   ///< of each
  double modulation = 0.0;        ///< swing over mean, the lesser of the two waves; 0.9 at best
};

struct FringeReadings {
  std::vector<FringeReading> places;  ///< in the order asked for
  double noise = 0.0;                 ///< of one brightness, share of full scale
  double change = 0.0;  ///< of a photo's light, share of the mean: exposure, other light
};

/// Means of light over the middle third of each mirror, then four steps. The uncertainty holds:
/// noise and changes of the light, from the mismatches of all places, phase sigma =
/// noise / (sqrt 2 swing) (source: Creath as in fringes.h); a tone curve that is off by a power
/// of 1.2, whose third harmonic moves phases by up to 0.012 rad (source: Fourier coefficients of a
/// power of a cosine); and how fast the reading changes across the mirror times how well the place
/// is known. Problems: other than eight photos, photos of different sizes. `names` are the photos'.
base::Result<FringeReadings> read_fringes(const std::vector<Image>& photos,
                                          const std::vector<std::string>& names,
                                          const Screen& screen,
                                          const std::vector<FringePlace>& places);

/// What to do about a fault, after the facet's name: "is not wholly in the photos".
const char* words_of(FringeFault fault);

}  // namespace photo
