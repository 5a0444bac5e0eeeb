// Two files of the same dish, each with rounds of its own: one log of both, with nothing lost.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace dish {

struct Merged {
  Dish dish;
  std::vector<std::string> notes;      ///< what came from the other file, one sentence each
  std::vector<std::string> conflicts;  ///< what the two files say differently, and what was kept
};

/// The rounds of both files. Same dish: the same set of facet ids.
///
/// Rounds are united by content: one that both files hold stands once; two of one name, with the
/// same light and board, that nowhere contradict each other become one (two people who read half
/// of the dish each); two of one name that do contradict each other are both kept, the other's
/// under a new name, and the contradiction is named. A round that only the other file has goes
/// behind those that came before it there. Screws stand as the file says that knows of more turns
/// of the facet; where neither knows of all, `mine` is kept and both are named. Everything else of
/// the dish is `mine`.
/// Laws: merge(a, a) = a; without conflicts merge(a, b) and merge(b, a) hold the same rounds.
/// Problems: facets that only one of the files has.
base::Result<Merged> merge_rounds(const Dish& mine, const Dish& other);

/// Number of the round that an unknown key stands in: 2 for "rounds[2]/spots[0]".
std::optional<std::size_t> round_of_key(const UnknownKey& key);

}  // namespace dish
