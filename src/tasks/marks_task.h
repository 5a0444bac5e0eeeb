// The answer "marks": where each facet's spot should lie on a board, as numbers and as pages that
// print at true scale.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace tasks {

enum class Paper { a4, letter };

struct MarksRequest {
  dish::Round round;               ///< light and board; its readings are not looked at
  bool secondary_in_place = true;  ///< false: taken off
  /// The mark is the middle of the whole facet's light, as a person reads a sun's spot.
  bool spot_is_centroid = false;
  double spot_sigma_m = 0.002;           ///< per axis, for the ring
  double turn_sigma_turns = 1.0 / 12.0;  ///< likewise
  Paper paper = Paper::a4;
};

struct FacetMark {
  dish::FacetId id;
  base::Vec2 board_m{0.0, 0.0};  ///< (right, up) for someone who faces the lit side
  double ring_m = 0.0;           ///< a spot within it is better left alone
  bool by_secondary = false;
};

struct MarksReply {
  std::vector<FacetMark> marks;  ///< in the dish's order
  base::Problems problems;       ///< facets without a mark, and why
  MarksRequest request;          ///< as it was carried out
};

/// Problems: no facet has a mark; what `align::centroid_offsets` refuses.
base::Result<MarksReply> run(const dish::Dish& dish, const MarksRequest& request);

std::string json_text(const MarksReply& reply);
std::string csv_text(const MarksReply& reply);
std::string report_text(const MarksReply& reply);

/// HTML that prints at 1:1: pages of the board with every mark, its facet and its ring, crosses at
/// the corners that lie on those of the neighbouring pages, and a rule of 100 mm to check the scale
/// with. Marks are drawn as someone sees them who faces the lit side.
/// Problem: marks spread over more than `k_most_pages` pages.
base::Result<std::string> marks_html(const dish::Dish& dish, const MarksReply& reply);
inline constexpr int k_most_pages = 120;

/// Words of "paper" and --paper: a4 or letter.
Paper paper_of(const std::string& word);

}  // namespace tasks
