// Blocks of facets.
#include "optics/live_sums.h"

#include <algorithm>

namespace optics {
namespace {

LiveSums::Amounts amounts_of(const FacetSpot& spot) {
  const Ledger& own = spot.ledger;
  const base::Vec2& c = spot.centroid_m;
  LiveSums::Amounts made{};
  made[LiveSums::shading] = own.shading_W;
  made[LiveSums::facet_absorption] = own.facet_absorption_W;
  made[LiveSums::blocking] = own.blocking_W;
  made[LiveSums::secondary_missed] = own.secondary_missed_W;
  made[LiveSums::secondary_absorption] = own.secondary_absorption_W;
  made[LiveSums::spillage] = own.spillage_W;
  made[LiveSums::plane] = spot.plane_W;
  made[LiveSums::receiver] = spot.receiver_W;
  made[LiveSums::caught] = caught_by(own);
  made[LiveSums::plane_x] = spot.plane_W * c.x;
  made[LiveSums::plane_y] = spot.plane_W * c.y;
  made[LiveSums::plane_xx] = spot.plane_W * (spot.covariance_m2[0] + c.x * c.x);
  made[LiveSums::plane_yy] = spot.plane_W * (spot.covariance_m2[2] + c.y * c.y);
  return made;
}

void add(LiveSums::Amounts& to, const LiveSums::Amounts& more) {
  for (std::size_t k = 0; k < to.size(); ++k) to[k] += more[k];
}

}  // namespace

LiveSums::LiveSums(const std::vector<FacetSpot>& spots) {
  facets_.reserve(spots.size());
  for (const FacetSpot& spot : spots) facets_.push_back(amounts_of(spot));
  blocks_.resize((spots.size() + k_block - 1) / k_block);
  for (std::size_t block = 0; block < blocks_.size(); ++block) add_up_block(block);
}

void LiveSums::change(std::size_t facet, const FacetSpot& spot) {
  facets_[facet] = amounts_of(spot);
  add_up_block(facet / k_block);
}

LiveSums::Amounts LiveSums::total() const {
  Amounts sum{};
  for (const Amounts& block : blocks_) add(sum, block);
  return sum;
}

void LiveSums::add_up_block(std::size_t block) {
  Amounts sum{};
  const std::size_t last = std::min((block + 1) * k_block, facets_.size());
  for (std::size_t k = block * k_block; k < last; ++k) add(sum, facets_[k]);
  blocks_[block] = sum;
}

}  // namespace optics
