// Words, places, and which place has whose word.
#include "naming/cover_codes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/check.h"
#include "naming/identify_cost.h"

namespace naming {
namespace {

using base::Problem;
using base::Result;

/// Two looks at one spot are hardly ever farther apart than so many sigmas of their difference.
constexpr double k_reach_sigmas = 3.5;
constexpr double k_merged_share = 1.5;

/// What lies at one place of the board, photograph by photograph.
struct Place {
  std::vector<SpotOfLook> spots;
  std::uint32_t word = 0;
  bool is_mixed = false;  ///< two spots in one photograph, or more than one facet's light
};

struct Seen {
  SpotOfLook at;
  const BoardSpot* spot = nullptr;
  double share = 0.0;  ///< light, in facets
};

std::vector<Seen> all_spots(const std::vector<BoardLook>& looks, const IdentifySettings& settings) {
  std::vector<Seen> seen;
  for (std::size_t p = 0; p < looks.size(); ++p) {
    const LookColumns light = columns_of(looks[p], settings);
    for (std::size_t s = 0; s < looks[p].spots.size(); ++s) {
      seen.push_back({{p, s}, &looks[p].spots[s], light.share_of[s]});
    }
  }
  return seen;
}

bool is_one_place(const BoardSpot& one, const BoardSpot& other) {
  return glm::distance(one.board_m, other.board_m) <
         k_reach_sigmas * std::hypot(one.sigma_m, other.sigma_m);
}

/// Spots that hang together, over all photographs.
std::vector<Place> places_of(const std::vector<Seen>& seen, const IdentifySettings& settings) {
  std::vector<std::size_t> head(seen.size());
  std::iota(head.begin(), head.end(), std::size_t{0});
  for (std::size_t i = 0; i < seen.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (head[i] == head[j] || !is_one_place(*seen[i].spot, *seen[j].spot)) continue;
      std::replace(head.begin(), head.end(), std::max(head[i], head[j]),
                   std::min(head[i], head[j]));
    }
  }
  std::vector<Place> places;
  for (std::size_t h = 0; h < seen.size(); ++h) {
    if (head[h] != h) continue;
    Place place;
    for (std::size_t i = h; i < seen.size(); ++i) {
      if (head[i] != h) continue;
      const std::uint32_t bit = std::uint32_t{1} << seen[i].at.look;
      const bool is_bright = settings.uses_flux && seen[i].share > k_merged_share;
      place.is_mixed = place.is_mixed || (place.word & bit) != 0 || is_bright;
      place.word |= bit;
      place.spots.push_back(seen[i].at);
    }
    places.push_back(std::move(place));
  }
  return places;
}

const char* again() { return "Uncover it alone and take one more photo."; }

Finding finding_of(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                   const std::vector<const Place*>& with_word, std::size_t cell,
                   const IdentifySettings& settings) {
  Finding finding;
  finding.cell = cell;
  if (with_word.empty()) {
    finding.doubt = Doubt::missing;
    finding.sentence =
        fmt::format("No spot came and went as {}'s cover did. {}", target.names[cell], again());
    return finding;
  }
  double least = 1e300;
  for (const Place* place : with_word) {
    const SpotOfLook first = place->spots.front();
    const BoardSpot& spot = looks[first.look].spots[first.spot];
    const double distance2 = misfit(target.cells[cell], spot, 0.0).distance2;
    if (distance2 >= least) continue;
    least = distance2;
    finding.look = first.look;
    finding.spot = first.spot;
  }
  finding.distance2 = least;
  if (with_word.size() > 1) {
    finding.doubt = Doubt::ambiguous;
    finding.sentence =
        fmt::format("Two spots came and went as {}'s cover did. {}", target.names[cell], again());
  } else if (least > settings.most_distance2) {
    finding.doubt = Doubt::surprising;
    finding.sentence = fmt::format(
        "The spot that came and went as {}'s cover did lies far from where it was "
        "expected. {}",
        target.names[cell], again());
  }
  return finding;
}

std::size_t open_photos(std::uint32_t word) {
  std::size_t weight = 0;
  for (; word != 0; word &= word - 1) ++weight;
  return weight;
}

}  // namespace

CoverCodes cover_codes(std::size_t facets, CoverCode code) {
  CHECK(facets <= k_most_coded, "no more facets than there are words");
  CoverCodes codes;
  if (code == CoverCode::gray) {
    while ((std::size_t{1} << codes.photos) < facets + 1) ++codes.photos;
    for (std::uint32_t n = 1; n <= facets; ++n) codes.word_of.push_back(n ^ (n >> 1u));
    return codes;
  }
  for (codes.photos = 8; codes.word_of.size() < facets; codes.photos += 2) {
    codes.word_of.clear();
    const std::uint32_t end = std::uint32_t{1} << codes.photos;
    for (std::uint32_t word = 1; word < end && codes.word_of.size() < facets; ++word) {
      if (open_photos(word) == codes.photos / 2) codes.word_of.push_back(word);
    }
    if (codes.word_of.size() == facets) break;
  }
  return codes;
}

std::vector<std::size_t> uncovered_in(const CoverCodes& codes, std::size_t photo) {
  std::vector<std::size_t> facets;
  for (std::size_t i = 0; i < codes.word_of.size(); ++i) {
    if ((codes.word_of[i] >> photo & 1u) != 0) facets.push_back(i);
  }
  return facets;
}

Result<Identification> identify_by_codes(const IdentifyTarget& target, const CoverCodes& codes,
                                         const std::vector<BoardLook>& looks,
                                         const IdentifySettings& settings) {
  if (codes.word_of.size() != target.cells.size() || looks.size() != codes.photos) {
    return Problem{"photographs", fmt::format("{} of them", looks.size()),
                   fmt::format("{}, with the covers as told", codes.photos)};
  }
  const auto places = places_of(all_spots(looks, settings), settings);
  Identification found;
  std::vector<bool> is_named(places.size(), false);
  for (std::size_t c = 0; c < target.cells.size(); ++c) {
    std::vector<const Place*> with_word;
    for (std::size_t k = 0; k < places.size(); ++k) {
      if (places[k].is_mixed || places[k].word != codes.word_of[c]) continue;
      with_word.push_back(&places[k]);
      is_named[k] = true;
    }
    found.findings.push_back(finding_of(target, looks, with_word, c, settings));
  }
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (is_named[k]) continue;
    found.false_spots.insert(found.false_spots.end(), places[k].spots.begin(),
                             places[k].spots.end());
  }
  return found;
}

}  // namespace naming
