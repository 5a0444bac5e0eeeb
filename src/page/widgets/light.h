// A flux map made visible: as light with an exposure, or on the map's ramp.
#pragma once

#include <cstdint>
#include <vector>

#include "optics/trace_result.h"

namespace widgets {

enum class MapLook { light, ramp };

/// Flux that the exposure is measured from: what falls on the receiver when the light that leaves
/// the facets is spread evenly over it. It does not move while facets are aimed, so a brighter
/// spot looks brighter. W/m^2; zero without light.
double reference_flux_W_m2(const optics::TraceResult& figures, double receiver_area_m2);

/// Response to light, 0..1 for each colour: like film, dark amber at the toe, white where it
/// saturates. `exposure` 1 is the reference flux.
struct Glow {
  float red = 0.0f;
  float green = 0.0f;
  float blue = 0.0f;
};
Glow glow_of(double exposure);

/// RGBA bytes of the map, row 0 at the bottom as in the map. `full_W_m2`: in the look of light the
/// flux of exposure 1, on the ramp the flux of the ramp's end.
std::vector<std::uint8_t> map_picture(const optics::FluxMap& map, MapLook look, double full_W_m2);

}  // namespace widgets
