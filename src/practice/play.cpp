// Plays rounds with the same parts that plan real ones.
#include "practice/play.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/check.h"

namespace practice {
namespace {

using base::Vec2;
using naming::BoardSpot;
using naming::Cover;
using naming::Doubt;
using naming::Finding;
using naming::IdentifyTarget;
using naming::Scheme;
using naming::ToldTurns;

constexpr std::uint32_t k_play = 1;  ///< purpose of the random numbers
constexpr int k_most_single_photos = 3;
/// Gain along a move is a mean over the two screws that make it.
constexpr double k_gain_of_move = 0.8;

/// What one round's photographs brought for each facet.
struct RoundSight {
  std::vector<std::optional<BoardSpot>> spots;
  std::size_t photos = 0;
  std::size_t wrong = 0;
};

/// One session while it is played.
struct Sitting {
  const Stage& stage;
  Hidden hidden;
  Draws draws;

  Photo photograph(const std::vector<std::size_t>& facets) {
    return observe(stage.practice, hidden, stage.truth, facets, stage.settings.camera,
                   stage.diameter_m, draws);
  }
};

void keep(const Photo& seen, std::size_t spot, std::size_t facet, RoundSight& sight) {
  const auto& owners = seen.owners[spot];
  sight.wrong += std::find(owners.begin(), owners.end(), facet) == owners.end() ? 1 : 0;
  sight.spots[facet] = seen.spots[spot];
}

/// One facet uncovered alone; when no spot shows, again, and anywhere: it may have been lost.
void look_at_one(Sitting& sitting, const IdentifyTarget& target, std::size_t cell,
                 RoundSight& sight) {
  const std::size_t facet = target.cells[cell].facet;
  naming::IdentifySettings settings = sitting.stage.settings.identify;
  settings.fits_common_shift = false;
  IdentifyTarget lost = target;
  lost.cells[cell].sigma_rad = std::max(lost.cells[cell].sigma_rad, naming::k_raw_tilt_rad);
  for (int photo = 0; photo < k_most_single_photos; ++photo) {
    const Photo seen = sitting.photograph({facet});
    ++sight.photos;
    const auto found =
        naming::identify(photo == 0 ? target : lost, {{{cell}, seen.spots}}, settings);
    CHECK(found.ok(), "photographs of a practice dish are in order");
    const Finding& finding = found.value().findings.front();
    if (finding.doubt == Doubt::missing) continue;
    keep(seen, finding.spot, facet, sight);
    return;
  }
}

/// One photograph for each list of cells; names, by the code words when there are any; then each
/// doubtful facet alone.
RoundSight look_at(Sitting& sitting, const IdentifyTarget& target,
                   const std::vector<std::vector<std::size_t>>& uncovered,
                   const naming::CoverCodes* codes) {
  RoundSight sight{.spots = std::vector<std::optional<BoardSpot>>(target.cells.size()),
                   .photos = uncovered.size()};
  std::vector<naming::BoardLook> looks;
  std::vector<Photo> seen;
  for (const auto& cells : uncovered) {
    seen.push_back(sitting.photograph(cells));
    looks.push_back({cells, seen.back().spots});
  }
  const Settings& settings = sitting.stage.settings;
  const auto found = codes != nullptr
                         ? naming::identify_by_codes(target, *codes, looks, settings.identify)
                         : naming::identify(target, looks, settings.identify);
  CHECK(found.ok(), "photographs of a practice dish are in order");
  for (const Finding& finding : found.value().findings) {
    if (settings.checks_doubts && finding.doubt != Doubt::none) {
      look_at_one(sitting, target, finding.cell, sight);
    } else if (finding.doubt != Doubt::missing) {
      keep(seen[finding.look], finding.spot, finding.cell, sight);
    }
  }
  return sight;
}

/// All facets, in groups.
RoundSight look_at_all(Sitting& sitting, const IdentifyTarget& target, const Cover& cover) {
  std::vector<std::vector<std::size_t>> uncovered(cover.groups);
  for (std::size_t c = 0; c < target.cells.size(); ++c) {
    uncovered[cover.group_of[c]].push_back(c);
  }
  std::erase_if(uncovered, [](const auto& cells) { return cells.empty(); });
  return look_at(sitting, target, uncovered, nullptr);
}

/// Each facet uncovered in the photographs of its code word.
RoundSight look_by_codes(Sitting& sitting, const IdentifyTarget& target) {
  const naming::CoverCodes& codes = sitting.stage.codes;
  std::vector<std::vector<std::size_t>> uncovered;
  for (std::size_t p = 0; p < codes.photos; ++p)
    uncovered.push_back(naming::uncovered_in(codes, p));
  return look_at(sitting, target, uncovered, &codes);
}

RoundSight look_one_by_one(Sitting& sitting, const IdentifyTarget& target) {
  RoundSight sight{.spots = std::vector<std::optional<BoardSpot>>(target.cells.size())};
  for (std::size_t c = 0; c < target.cells.size(); ++c) look_at_one(sitting, target, c, sight);
  return sight;
}

/// A camera sees every facet at its own place and reads the board in it: nothing merges and
/// nothing has to be named; what leaves the board cannot be read.
RoundSight look_back(Sitting& sitting, const IdentifyTarget& target) {
  const Stage& stage = sitting.stage;
  RoundSight sight{.spots = std::vector<std::optional<BoardSpot>>(target.cells.size()),
                   .photos = 1};
  Camera reader = stage.settings.camera;
  reader.missed = reader.false_spots = 0.0;
  for (std::size_t c = 0; c < target.cells.size(); ++c) {
    const Photo seen = observe(stage.practice, sitting.hidden, stage.truth, {target.cells[c].facet},
                               reader, stage.diameter_m, sitting.draws);
    if (!seen.spots.empty()) keep(seen, 0, target.cells[c].facet, sight);
  }
  return sight;
}

RoundSight sight_of_round(Sitting& sitting, int round) {
  const Stage& stage = sitting.stage;
  const IdentifyTarget& target = round == 0 ? stage.first : stage.later;
  switch (stage.settings.scheme.scheme) {
    case Scheme::one_by_one:
      return look_one_by_one(sitting, target);
    case Scheme::look_back:
      return look_back(sitting, target);
    case Scheme::defocus:
    case Scheme::tilt_array:
      break;
  }
  if (round == 0 && stage.codes.photos > 0) return look_by_codes(sitting, target);
  const Cover all{.group_of = std::vector<std::size_t>(target.cells.size(), 0)};
  return look_at_all(sitting, target, round == 0 ? stage.cover : all);
}

/// What the planner tells for one facet; nothing when it is better left alone.
std::optional<ToldTurns> told_turns(const Stage& stage, std::size_t facet, const BoardSpot& seen) {
  align::CorrectionRequest request = stage.settings.correction;
  request.sigmas.spot_m = seen.sigma_m;
  const auto correction = align::correct(*stage.practice.dish, stage.practice.dish->facets[facet],
                                         stage.believed, seen.board_m, request);
  if (!correction || correction.value().verdict != align::Verdict::turn) return std::nullopt;
  ToldTurns told{.facet = facet};
  for (std::size_t k = 0; k < 3; ++k) {
    const align::ScrewCorrection& screw = correction.value().screws[k];
    told.turns[k] = static_cast<double>(screw.clicks) / screw.clicks_per_turn;
  }
  return told;
}

ToldTurns array_turns(const naming::ArrayTurns& array, double share) {
  ToldTurns told{.facet = array.facet};
  for (std::size_t k = 0; k < 3; ++k) {
    told.turns[k] = share * static_cast<double>(array.clicks[k]) / array.clicks_per_turn;
  }
  return told;
}

void spread_out(Sitting& sitting) {
  std::vector<ToldTurns> told;
  for (const naming::ArrayTurns& array : sitting.stage.array)
    told.push_back(array_turns(array, 1.0));
  turn(sitting.stage.practice, sitting.hidden, told, sitting.stage.settings.hands, sitting.draws);
}

/// Half of each told turn, in whole clicks of the mount.
ToldTurns half_of(const Stage& stage, const ToldTurns& whole) {
  ToldTurns half = whole;
  const int clicks = stage.practice.setups[whole.facet].mount->clicks_per_turn;
  for (double& each : half.turns) each = std::floor(0.5 * each * clicks + 0.5) / clicks;
  return half;
}

/// How much farther a spot moved than half the way to the middle, drawn toward 1 by what is known
/// of screws beforehand against the noise of two spots and of the hands.
double learned_gain(const Stage& stage, const BoardSpot& before, const BoardSpot& after) {
  const Vec2 half_way = -0.5 * before.board_m;
  const double way2 = std::max(glm::dot(half_way, half_way), 1e-12);
  const double seen = glm::dot(after.board_m - before.board_m, half_way) / way2;
  const double hands_m = naming::k_turned_tilt_rad * stage.practice.dish->focal_length_m;
  const double noise2 =
      (base::square(before.sigma_m) + base::square(after.sigma_m) + base::square(hands_m)) / way2;
  const double known2 = base::square(k_gain_of_move * stage.settings.errors.gain);
  return 1.0 + known2 / (known2 + noise2) * (seen - 1.0);
}

/// Comes back from the array by half, looks again, and tells the rest by how far the spots
/// really moved.
std::vector<ToldTurns> told_with_gain(Sitting& sitting, std::vector<ToldTurns> told,
                                      RoundSight& sight) {
  const Stage& stage = sitting.stage;
  std::vector<ToldTurns> halves;
  for (const ToldTurns& each : told) halves.push_back(half_of(stage, each));
  turn(stage.practice, sitting.hidden, halves, stage.settings.hands, sitting.draws);
  IdentifyTarget halfway = stage.later;
  for (const ToldTurns& each : told) {
    if (!sight.spots[each.facet]) continue;
    naming::Cell& cell = halfway.cells[each.facet];
    cell.mark_m = 0.5 * sight.spots[each.facet]->board_m;
    cell.sigma_rad = naming::k_turned_tilt_rad;
  }
  const Cover all{.group_of = std::vector<std::size_t>(halfway.cells.size(), 0)};
  const RoundSight again = look_at_all(sitting, halfway, all);
  sight.photos += again.photos;
  sight.wrong += again.wrong;
  std::vector<ToldTurns> rest;
  for (std::size_t n = 0; n < told.size(); ++n) {
    const std::size_t facet = told[n].facet;
    for (std::size_t k = 0; k < 3; ++k) told[n].turns[k] -= halves[n].turns[k];
    if (!sight.spots[facet] || !again.spots[facet]) {
      rest.push_back(told[n]);
      continue;
    }
    const double gain = learned_gain(stage, *sight.spots[facet], *again.spots[facet]);
    auto exact = told_turns(stage, facet, *again.spots[facet]);
    if (!exact) continue;
    const int clicks = stage.practice.setups[facet].mount->clicks_per_turn;
    for (double& each : exact->turns) {
      each = std::floor(each / gain * clicks + 0.5) / clicks;
    }
    rest.push_back(*exact);
  }
  return rest;
}

std::vector<ToldTurns> told_of_round(Sitting& sitting, RoundSight& sight) {
  const Stage& stage = sitting.stage;
  std::vector<ToldTurns> told;
  for (std::size_t i = 0; i < sight.spots.size(); ++i) {
    std::optional<ToldTurns> turns;
    if (sight.spots[i]) turns = told_turns(stage, i, *sight.spots[i]);
    // A facet whose spot is not known goes back the way it was sent.
    if (!turns && !stage.array.empty()) turns = array_turns(stage.array[i], -1.0);
    if (turns) told.push_back(*turns);
  }
  if (!stage.array.empty() && stage.settings.scheme.learns_gain) {
    return told_with_gain(sitting, std::move(told), sight);
  }
  return told;
}

double rms_of(const std::vector<double>& values) {
  double squares = 0.0;
  for (const double value : values) squares += value * value;
  return std::sqrt(squares / static_cast<double>(values.size()));
}

Round play_round(Sitting& sitting, int round) {
  if (!sitting.stage.array.empty()) spread_out(sitting);
  RoundSight sight = sight_of_round(sitting, round);
  const std::vector<ToldTurns> told = told_of_round(sitting, sight);
  Round played{.photos = sight.photos, .wrong = sight.wrong, .facets_turned = told.size()};
  for (const auto& spot : sight.spots) played.unseen += spot ? 0 : 1;
  for (const ToldTurns& each : told) {
    for (const double turns : each.turns) played.turns += std::abs(turns);
  }
  turn(sitting.stage.practice, sitting.hidden, told, sitting.stage.settings.hands, sitting.draws);
  const std::vector<double> tilts = tilts_left(sitting.stage.practice, sitting.hidden);
  played.rms_rad = rms_of(tilts);
  played.largest_rad = *std::max_element(tilts.begin(), tilts.end());
  return played;
}

}  // namespace

Session play(const Stage& stage, std::uint64_t seed, std::uint32_t trial) {
  Sitting sitting{stage, {}, Draws(seed, trial, k_play)};
  sitting.hidden = hide(stage.practice, stage.settings.errors, sitting.draws);
  Session session{.start_rms_rad = rms_of(tilts_left(stage.practice, sitting.hidden))};
  for (int round = 0; round < stage.settings.rounds; ++round) {
    session.rounds.push_back(play_round(sitting, round));
  }
  return session;
}

}  // namespace practice
