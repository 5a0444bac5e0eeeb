// Names by covers that open and close in a pattern of their own: each facet is uncovered in the
// photographs of its code word, and a spot that comes and goes as the word says is that facet's.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/result.h"
#include "naming/identify.h"

namespace naming {

enum class CoverCode {
  /// Reflected binary numbers: fewest photographs, but a spot that was missed once, or two that ran
  /// together, can read as another facet's word.
  gray,
  /// Words with as many photographs open as closed: runs together have too many, misses too few.
  half_open,
};

struct CoverCodes {
  std::size_t photos = 0;
  std::vector<std::uint32_t> word_of;  ///< of each facet; bit p: uncovered in photograph p
};

inline constexpr std::size_t k_most_coded = 924;

/// Different words for so many facets (at most `k_most_coded`), none without a photograph. Gray:
/// ceil(log2(facets + 1)) photographs; half open: 8 for up to 70 facets, 10 for 252, 12 for 924.
/// Source: Gray, US patent 2632058 (1953); constant-weight codes, any textbook of coding.
CoverCodes cover_codes(std::size_t facets, CoverCode code);

/// The facets (or cells, in the same order) that one photograph shows.
std::vector<std::size_t> uncovered_in(const CoverCodes& codes, std::size_t photo);

/// Gives spots to cells by the photographs in which something lies at their place; places are
/// told apart by the spots' own noise. Only a place with exactly a cell's word, one spot to a
/// photograph and one facet's light is named; it is doubted when it lies where the cell's facet is
/// hardly to be expected, or when two places have the word. A finding names the first photograph
/// that shows the spot.
/// Problems: photographs that do not belong to the codes.
base::Result<Identification> identify_by_codes(const IdentifyTarget& target,
                                               const CoverCodes& codes,
                                               const std::vector<BoardLook>& looks,
                                               const IdentifySettings& settings);

}  // namespace naming
