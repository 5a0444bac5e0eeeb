// The light that is seen in the yard: the spot on the receiver with its halo, and the sun.
#pragma once

#include <vector>

#include "optics/scene.h"
#include "optics/trace_result.h"
#include "page/yard/camera.h"
#include "page/yard/drawing.h"
#include "page/yard/palette.h"
#include "page/yard/ribbons.h"

namespace yard {

/// The flux map laid on the receiver's lit face, and a halo for who looks at that face.
/// `exposure` is the peak over the flux that shows as exposure 1.
void add_spot(std::vector<LightPiece>& lights, const optics::Scene& scene,
              const optics::FluxMap& map, double exposure, const Ground& ground,
              const Camera& camera);

/// The sun's disc and its bloom.
void add_sun(std::vector<LightPiece>& lights, const SunPlace& sun, const Palette& palette,
             const Camera& camera);

}  // namespace yard
