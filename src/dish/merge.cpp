// Matches rounds, unites what agrees, names what does not.
#include "dish/merge.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "base/units.h"
#include "dish/doubts.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

/// A round of the merged log, and where it comes from.
struct Entry {
  Round round;
  std::optional<std::size_t> mine;
  std::optional<std::size_t> other;
};

/// Light, board and whatever else a round has that does not belong to single facets.
Round setting_of(Round round) {
  round.spots.clear();
  round.told.clear();
  round.turned.clear();
  round.note.clear();
  return round;
}

std::vector<Turned> turns_of(const std::vector<Turned>& log, const FacetId& facet) {
  std::vector<Turned> own;
  std::copy_if(log.begin(), log.end(), std::back_inserter(own),
               [&](const Turned& turned) { return turned.facet == facet; });
  return own;
}

std::string turns_text(const std::vector<Turned>& turns) {
  std::string text;
  for (const Turned& turned : turns) {
    text +=
        fmt::format("{}{} by {:.3g}", text.empty() ? "screw " : ", ", turned.screw, turned.turns);
  }
  return text;
}

std::string place_text(const base::Vec2& seen_m) {
  return fmt::format("{:.1f} mm right, {:.1f} mm up", base::mm_from_m(seen_m.x),
                     base::mm_from_m(seen_m.y));
}

const Spot* spot_of(const Round& round, const FacetId& facet) {
  for (const Spot& spot : round.spots) {
    if (spot.facet == facet) return &spot;
  }
  return nullptr;
}

/// Turns of one facet that both logs hold and that differ.
std::string clash_of_turns(const std::vector<Turned>& mine, const std::vector<Turned>& other,
                           const char* what) {
  std::set<FacetId> seen;
  for (const Turned& turned : mine) {
    if (!seen.insert(turned.facet).second) continue;
    const auto ours = turns_of(mine, turned.facet);
    const auto theirs = turns_of(other, turned.facet);
    if (theirs.empty() || ours == theirs) continue;
    return fmt::format("the turns {} of {} are {} in the one and {} in the other", what,
                       place_of(turned.facet), turns_text(ours), turns_text(theirs));
  }
  return "";
}

/// The first fact that two rounds of one name state differently; empty when there is none.
std::string clash_of(const Round& mine, const Round& other) {
  if (!(setting_of(mine) == setting_of(other))) return "the light, the board or the method differ";
  for (const Spot& spot : mine.spots) {
    const Spot* theirs = spot_of(other, spot.facet);
    if (theirs == nullptr || *theirs == spot) continue;
    return fmt::format("the spot of {} lies {} in the one and {} in the other",
                       place_of(spot.facet), place_text(spot.seen_m), place_text(theirs->seen_m));
  }
  std::string clash = clash_of_turns(mine.told, other.told, "told");
  return clash.empty() ? clash_of_turns(mine.turned, other.turned, "made") : clash;
}

/// Appends the turns of facets that the log does not have yet.
void unite_turns(std::vector<Turned>& log, const std::vector<Turned>& more) {
  std::set<FacetId> known;
  for (const Turned& turned : log) known.insert(turned.facet);
  std::copy_if(more.begin(), more.end(), std::back_inserter(log),
               [&](const Turned& turned) { return known.count(turned.facet) == 0; });
}

std::string united_note(const std::string& mine, const std::string& other) {
  if (mine.find(other) != std::string::npos) return mine;
  if (other.find(mine) != std::string::npos) return other;
  return std::min(mine, other) + "\n" + std::max(mine, other);
}

/// Two rounds that do not contradict each other.
Round united(Round mine, const Round& other) {
  for (const Spot& spot : other.spots) {
    if (spot_of(mine, spot.facet) == nullptr) mine.spots.push_back(spot);
  }
  unite_turns(mine.told, other.told);
  unite_turns(mine.turned, other.turned);
  mine.note = united_note(mine.note, other.note);
  return mine;
}

base::Problems foreign_facets(const Dish& mine, const Dish& other) {
  std::set<FacetId> ours;
  std::set<FacetId> theirs;
  for (const Facet& facet : mine.facets) ours.insert(facet.id);
  for (const Facet& facet : other.facets) theirs.insert(facet.id);
  std::vector<FacetId> only_one;
  std::set_symmetric_difference(ours.begin(), ours.end(), theirs.begin(), theirs.end(),
                                std::back_inserter(only_one));
  if (only_one.empty()) return {};
  return {{"the two files", "only one of them has " + places_of(only_one),
           "two files of the same dish, with the same facets"}};
}

struct Merger {
  const Dish& mine;
  const Dish& other;
  std::vector<Entry> entries;
  Merged merged;

  void start();
  void match();
  void place_others();
  void settle_screws();
  void settle_unknown();
};

void Merger::start() {
  for (std::size_t i = 0; i < mine.rounds.size(); ++i) {
    entries.push_back({.round = mine.rounds[i], .mine = i});
  }
}

/// Pairs rounds that are the same, then rounds of one name that can be united.
void Merger::match() {
  std::set<std::size_t> left;
  for (std::size_t i = 0; i < other.rounds.size(); ++i) left.insert(i);
  const auto pair_up = [&](const auto& fits) {
    for (auto it = left.begin(); it != left.end();) {
      const Round& theirs = other.rounds[*it];
      const auto found = std::find_if(entries.begin(), entries.end(), [&](const Entry& entry) {
        return !entry.other && fits(entry.round, theirs);
      });
      if (found == entries.end()) {
        ++it;
        continue;
      }
      found->other = *it;
      it = left.erase(it);
    }
  };
  pair_up([](const Round& ours, const Round& theirs) { return ours == theirs; });
  pair_up([](const Round& ours, const Round& theirs) {
    return ours.name == theirs.name && clash_of(ours, theirs).empty();
  });
  for (Entry& entry : entries) {
    if (!entry.other || entry.round == other.rounds[*entry.other]) continue;
    entry.round = united(entry.round, other.rounds[*entry.other]);
    merged.notes.push_back(fmt::format(
        "{}: both files say the same where both speak, and are united.", entry.round.name));
  }
}

/// Puts rounds that only the other file has behind those that came before them there.
void Merger::place_others() {
  std::set<std::string> names;
  for (const Entry& entry : entries) names.insert(entry.round.name);
  const auto place_of_other = [&](std::size_t i) {
    return std::find_if(entries.begin(), entries.end(),
                        [&](const Entry& entry) { return entry.other == i; });
  };
  auto at = static_cast<std::ptrdiff_t>(entries.size());
  for (std::size_t i = other.rounds.size(); i-- > 0;) {
    if (const auto found = place_of_other(i); found != entries.end()) at = found - entries.begin();
  }
  for (std::size_t i = 0; i < other.rounds.size(); ++i) {
    if (const auto found = place_of_other(i); found != entries.end()) {
      at = found - entries.begin() + 1;
      while (at < static_cast<std::ptrdiff_t>(entries.size()) && !entries[at].other) ++at;
      continue;
    }
    Entry entry{.round = other.rounds[i], .other = i};
    const std::string name = entry.round.name;
    if (names.count(name) != 0) {
      const auto rival = std::find_if(entries.begin(), entries.end(), [&](const Entry& known) {
        return known.mine && known.round.name == name;
      });
      for (int number = 2; names.count(entry.round.name) != 0; ++number) {
        entry.round.name = fmt::format("{} ({})", name, number);
      }
      const std::string why =
          rival == entries.end() ? "it stands twice" : clash_of(rival->round, other.rounds[i]);
      merged.conflicts.push_back(fmt::format(
          "{}: {}. Both are kept, the other file's as \"{}\".", name,
          why.empty() ? "the files hold it a different number of times" : why, entry.round.name));
    } else {
      merged.notes.push_back(fmt::format("{} comes from the other file.", name));
    }
    names.insert(entry.round.name);
    entries.insert(entries.begin() + at, std::move(entry));
    ++at;
  }
  for (Entry& entry : entries) merged.dish.rounds.push_back(entry.round);
}

std::map<FacetId, std::size_t> count_turns(const Dish& dish) {
  std::map<FacetId, std::size_t> counts;
  for (const Round& round : dish.rounds) {
    for (const Turned& turned : round.turned) ++counts[turned.facet];
  }
  return counts;
}

std::string screws_text(const std::array<double, 3>& displacement_m) {
  return fmt::format("({:.3f}, {:.3f}, {:.3f}) mm", base::mm_from_m(displacement_m[0]),
                     base::mm_from_m(displacement_m[1]), base::mm_from_m(displacement_m[2]));
}

void Merger::settle_screws() {
  auto all = count_turns(merged.dish);
  auto ours = count_turns(mine);
  auto theirs = count_turns(other);
  std::map<FacetId, const Facet*> others;
  for (const Facet& facet : other.facets) others.emplace(facet.id, &facet);
  for (Facet& facet : merged.dish.facets) {
    const Facet& their = *others.at(facet.id);
    if (facet.displacement_m == their.displacement_m) continue;
    const bool we_know = ours[facet.id] == all[facet.id];
    const bool they_know = theirs[facet.id] == all[facet.id];
    if (we_know && !they_know) continue;
    if (they_know && !we_know) {
      facet.displacement_m = their.displacement_m;
      merged.notes.push_back(fmt::format(
          "The screws of {} stand as in the other file, which knows of more of their turns.",
          place_of(facet.id)));
      continue;
    }
    merged.conflicts.push_back(fmt::format(
        "The screws of {} stand at {} in the one file and at {} in the other{}. The "
        "first is kept: look at its spot again.",
        place_of(facet.id), screws_text(facet.displacement_m), screws_text(their.displacement_m),
        we_know ? ", with the same turns" : ", after different turns"));
  }
}

/// Number of an item among those of the merged round; the same item, wherever it stands.
template <class T>
std::size_t found_at(const std::vector<T>& items, const T& item) {
  return static_cast<std::size_t>(std::find(items.begin(), items.end(), item) - items.begin());
}

/// Where "rounds[i]rest" of one file stands in the merged log.
std::string moved_place(const std::string& rest, const Round& from, const Round& to,
                        std::size_t number) {
  std::string place = fmt::format("rounds[{}]", number);
  const auto open = rest.find('[');
  const auto close = rest.find(']');
  if (open == std::string::npos || close == std::string::npos) return place + rest;
  const std::string list = rest.substr(0, open);
  const auto item = static_cast<std::size_t>(std::atoi(rest.c_str() + open + 1));
  std::size_t at = item;
  if (list == "/spots" && item < from.spots.size()) at = found_at(to.spots, from.spots[item]);
  if (list == "/told" && item < from.told.size()) at = found_at(to.told, from.told[item]);
  if (list == "/turned" && item < from.turned.size()) at = found_at(to.turned, from.turned[item]);
  return fmt::format("{}{}[{}{}", place, list, at, rest.substr(close));
}

void Merger::settle_unknown() {
  std::vector<UnknownKey> kept;
  std::map<std::pair<std::string, std::string>, std::string> known;
  const auto take = [&](const Dish& from, bool is_mine) {
    for (const UnknownKey& key : from.unknown) {
      const auto round = round_of_key(key);
      if (!round && !is_mine) continue;
      UnknownKey moved = key;
      if (round) {
        const auto entry = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) {
          return (is_mine ? e.mine : e.other) == round;
        });
        if (entry == entries.end()) continue;
        moved.place = moved_place(key.place.substr(key.place.find(']') + 1), from.rounds[*round],
                                  entry->round, static_cast<std::size_t>(entry - entries.begin()));
      }
      const auto [at, is_new] = known.emplace(std::pair{moved.place, moved.key}, moved.json);
      if (is_new) {
        kept.push_back(std::move(moved));
      } else if (at->second != moved.json) {
        merged.conflicts.push_back(
            fmt::format("{}/{} is {} in the one file and {} in the other. The first is kept.",
                        moved.place, moved.key, at->second, moved.json));
      }
    }
  };
  take(mine, true);
  take(other, false);
  merged.dish.unknown = std::move(kept);
}

}  // namespace

std::optional<std::size_t> round_of_key(const UnknownKey& key) {
  const std::string start = "rounds[";
  if (key.place.compare(0, start.size(), start) != 0) return std::nullopt;
  return static_cast<std::size_t>(std::atoi(key.place.c_str() + start.size()));
}

base::Result<Merged> merge_rounds(const Dish& mine, const Dish& other) {
  base::Problems problems = foreign_facets(mine, other);
  if (!problems.empty()) return problems;
  Merger merger{.mine = mine, .other = other};
  merger.merged.dish = mine;
  merger.merged.dish.rounds.clear();
  merger.start();
  merger.match();
  merger.place_others();
  merger.settle_screws();
  merger.settle_unknown();
  return std::move(merger.merged);
}

}  // namespace dish
