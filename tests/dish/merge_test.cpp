// Logs of two people: united where they agree, named where they do not, nothing lost.
#include "dish/merge.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "dish/edit.h"
#include "support/says.h"

namespace {

using dish::Dish;
using dish::Round;

Round round_of(const std::string& name, const std::vector<std::string>& facets, double right_m) {
  Round round{.name = name};
  for (const std::string& id : facets) {
    round.spots.push_back({.facet = {id}, .seen_m = {right_m, 0.001}});
    round.told.push_back({.facet = {id}, .screw = "1", .turns = 0.5});
    round.turned.push_back({.facet = {id}, .screw = "1", .turns = 0.5});
  }
  return round;
}

Dish with(const std::vector<Round>& rounds) {
  Dish dish = dish::default_dish();
  dish.rounds = rounds;
  return dish;
}

dish::Merged merged(const Dish& a, const Dish& b) {
  auto result = dish::merge_rounds(a, b);
  if (!result.ok()) FAIL(base::to_text(result.problems()));
  return std::move(result).value();
}

std::vector<std::string> names(const Dish& dish) {
  std::vector<std::string> names;
  for (const Round& round : dish.rounds) names.push_back(round.name);
  return names;
}

bool holds(const Dish& dish, const Round& round) {
  return std::find(dish.rounds.begin(), dish.rounds.end(), round) != dish.rounds.end();
}

const Round k_first = round_of("Round 1", {"A1", "A2", "B1"}, 0.02);

}  // namespace

TEST_CASE("a file merged with itself is itself") {
  const Dish dish = with({k_first, k_first, round_of("Round 2", {"A1"}, 0.01)});
  const dish::Merged same = merged(dish, dish);
  CHECK(same.dish.rounds == dish.rounds);
  CHECK(same.notes.empty());
  CHECK(same.conflicts.empty());
}

TEST_CASE("without conflicts the order of two files does not matter to what is kept") {
  const Dish a = with({k_first, round_of("Ann", {"A1"}, 0.01)});
  const Dish b = with({k_first, round_of("Ben", {"B1"}, 0.03), round_of("Ben 2", {"B2"}, 0.0)});
  const dish::Merged ab = merged(a, b);
  const dish::Merged ba = merged(b, a);
  CHECK(names(ab.dish) == std::vector<std::string>{"Round 1", "Ann", "Ben", "Ben 2"});
  CHECK(names(ba.dish) == std::vector<std::string>{"Round 1", "Ben", "Ben 2", "Ann"});
  for (const Round& round : ab.dish.rounds) CHECK(holds(ba.dish, round));
  CHECK(ab.conflicts.empty());
  CHECK(ab.notes == std::vector<std::string>{"Ben comes from the other file.",
                                             "Ben 2 comes from the other file."});
  CHECK(merged(ab.dish, b).dish.rounds == ab.dish.rounds);
  CHECK(dish::errors_of(ab.dish).empty());
}

TEST_CASE("two people who each read half of a round have read one round") {
  Round left = round_of("Round 2", {"A1", "A2"}, 0.01);
  Round right = round_of("Round 2", {"A2", "B1"}, 0.01);
  left.note = "left half";
  right.note = "right half";
  const dish::Merged both = merged(with({k_first, left}), with({k_first, right}));
  REQUIRE(both.dish.rounds.size() == 2);
  CHECK(both.dish.rounds[1].spots.size() == 3);
  CHECK(both.dish.rounds[1].turned.size() == 3);
  CHECK(both.dish.rounds[1].told.size() == 3);
  CHECK(both.dish.rounds[1].note == "left half\nright half");
  CHECK(both.conflicts.empty());
  CHECK(both.notes.size() == 1);
}

TEST_CASE("what two files say differently is named, and both are kept") {
  Round other = k_first;
  other.spots[1].seen_m.x = 0.035;
  dish::Merged both = merged(with({k_first}), with({other}));
  CHECK(names(both.dish) == std::vector<std::string>{"Round 1", "Round 1 (2)"});
  REQUIRE(both.conflicts.size() == 1);
  CHECK(both.conflicts[0] ==
        "Round 1: the spot of facet A2 lies 20.0 mm right, 1.0 mm up in the one and 35.0 mm "
        "right, 1.0 mm up in the other. Both are kept, the other file's as \"Round 1 (2)\".");
  other = k_first;
  other.turned[2].turns = -0.5;
  both = merged(with({k_first}), with({other}));
  REQUIRE(both.conflicts.size() == 1);
  CHECK(support::says(both.conflicts[0],
                      "the turns made of facet B1 are screw 1 by 0.5 in the one and screw 1 by "
                      "-0.5 in the other"));
  other = k_first;
  other.source = dish::LaserSource{};
  both = merged(with({k_first}), with({other}));
  CHECK(both.dish.rounds.size() == 2);
  CHECK(support::says(both.conflicts.at(0), "the light, the board"));
}

TEST_CASE("screws stand as the file says that knows of more turns") {
  Dish a = with({k_first});
  Dish b = with({k_first, round_of("Round 2", {"A1"}, 0.01)});
  b.facets[dish::find_facet(b, {"A1"})].displacement_m = {0.001, 0.0, 0.0};
  for (const auto& both : {merged(a, b), merged(b, a)}) {
    CHECK(both.dish.facets[dish::find_facet(both.dish, {"A1"})].displacement_m[0] == 0.001);
    CHECK(both.conflicts.empty());
  }
  a.facets[dish::find_facet(a, {"B2"})].displacement_m = {0.0, 0.002, 0.0};
  const dish::Merged both = merged(b, a);
  REQUIRE(both.conflicts.size() == 1);
  CHECK(both.conflicts[0] ==
        "The screws of facet B2 stand at (0.000, 0.000, 0.000) mm in the one file and at (0.000, "
        "2.000, 0.000) mm in the other, with the same turns. The first is kept: look at its spot "
        "again.");
}

TEST_CASE("keys of other versions go with their rounds and spots") {
  Dish a = with({k_first});
  a.unknown = {{"rounds[0]", "wind", "3"}, {"receiver", "glass", "true"}};
  Dish b = with({round_of("Ben", {"B1"}, 0.03), k_first});
  b.unknown = {{"rounds[0]/spots[0]", "by", "\"eye\""}, {"rounds[1]", "wind", "4"}};
  const dish::Merged both = merged(a, b);
  REQUIRE(names(both.dish) == std::vector<std::string>{"Ben", "Round 1"});
  REQUIRE(both.dish.unknown.size() == 3);
  CHECK(both.dish.unknown[0].place == "rounds[1]");
  CHECK(both.dish.unknown[1].place == "receiver");
  CHECK(both.dish.unknown[2].place == "rounds[0]/spots[0]");
  REQUIRE(both.conflicts.size() == 1);
  CHECK(both.conflicts[0] ==
        "rounds[1]/wind is 3 in the one file and 4 in the other. The first is kept.");

  auto shorter = dish::apply(both.dish, dish::edit::RemoveRound{0});
  REQUIRE(shorter.ok());
  REQUIRE(shorter.value().unknown.size() == 2);
  CHECK(shorter.value().unknown[0].place == "rounds[0]");
}

TEST_CASE("files of different dishes are not merged") {
  Dish other = dish::default_dish();
  other.facets.pop_back();
  const auto result = dish::merge_rounds(dish::default_dish(), other);
  REQUIRE(!result.ok());
  CHECK(support::says(base::to_text(result.problems()), "only one of them has facet"));
}

TEST_CASE("what was done can be put right, and a round taken back") {
  Dish dish = with({k_first});
  const dish::edit::AmendTurns amend{.round = 0,
                                     .facet = {"A2"},
                                     .turned = {{.facet = {"A2"}, .screw = "3", .turns = 0.5}},
                                     .moved = dish::edit::Moved{{"A2"}, {0.0, 0.0, 0.0005}}};
  const auto amended = dish::apply(dish, amend);
  REQUIRE(amended.ok());
  const Round& round = amended.value().rounds[0];
  CHECK(round.told == k_first.told);
  REQUIRE(round.turned.size() == 3);
  CHECK(round.turned[1].screw == "3");
  CHECK(amended.value().facets[dish::find_facet(dish, {"A2"})].displacement_m[2] == 0.0005);
  CHECK(!dish::apply(dish, dish::edit::AmendTurns{.round = 1, .facet = {"A1"}}).ok());
  CHECK(!dish::apply(dish, dish::edit::AmendTurns{.facet = {"A1"}, .turned = amend.turned}).ok());

  const auto undone = dish::apply(
      amended.value(), dish::edit::UndoRound{{dish::edit::Moved{{"A2"}, {0.0, 0.0, 0.0}}}});
  REQUIRE(undone.ok());
  CHECK(undone.value().rounds.empty());
  CHECK(!dish::apply(undone.value(), dish::edit::UndoRound{}).ok());
  const auto united = dish::apply(undone.value(), dish::edit::MergeRounds{dish});
  REQUIRE(united.ok());
  CHECK(united.value().rounds == dish.rounds);
}
