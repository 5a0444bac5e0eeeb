// What searches judge a dish by, from its noise-free evaluation.
#pragma once

#include <vector>

#include "optics/live.h"
#include "optics/optimise.h"
#include "optics/scene.h"

namespace optics {

/// For each cell of a square map about the receiver's middle, the share of it that lies on the
/// receiver, 0..1, from 8 x 8 points.
std::vector<double> receiver_mask(const SceneReceiver& receiver, int cells, double width_m);

SearchFigures search_figures(const LiveState& light);

/// Longer side, or diameter; and the same receiver at another.
double receiver_width(const dish::Receiver& receiver);
void set_receiver_width(dish::Receiver& receiver, double width_m);

inline base::Problem search_cancelled() {
  return {"cancelled", "", "a search that was let finish"};
}

}  // namespace optics
