// Sums over facets in a fixed order, in blocks: one facet's change adds up one
// block and the blocks' totals again.
#pragma once

#include <array>
#include <vector>

#include "optics/facet_light.h"
#include "optics/trace_result.h"

namespace optics {

class LiveSums {
 public:
  /// What is added up of each facet.
  enum Account {
    shading,
    facet_absorption,
    blocking,
    secondary_missed,
    secondary_absorption,
    spillage,
    plane,
    receiver,
    caught,
    plane_x,
    plane_y,
    plane_xx,
    plane_yy,
    account_count
  };
  using Amounts = std::array<double, account_count>;

  LiveSums() = default;
  explicit LiveSums(const std::vector<FacetSpot>& spots);

  /// One facet's amounts have changed.
  void change(std::size_t facet, const FacetSpot& spot);
  [[nodiscard]] Amounts total() const;

 private:
  static constexpr std::size_t k_block = 64;
  void add_up_block(std::size_t block);

  std::vector<Amounts> facets_;
  std::vector<Amounts> blocks_;
};

}  // namespace optics
