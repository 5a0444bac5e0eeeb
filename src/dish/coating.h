// What makes a mirror reflect, where its reflectance is computed and not given as a number.
#pragma once

#include <cstdint>

namespace dish {

enum class Metal : std::uint8_t { silver, aluminium, gold, copper };

/// What the light passes on its way to the metal and back.
enum class Cover : std::uint8_t { none, acrylic, glass };

struct Coating {
  Metal metal = Metal::silver;
  Cover cover = Cover::none;
  double thickness_m = 0.003;  ///< of the cover
};

}  // namespace dish
