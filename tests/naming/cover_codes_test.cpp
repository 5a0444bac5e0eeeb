// Covers that open by a code: the words, and what is read from them. How often that is right stands
// in practice/cover_rates_test.cpp.
#include "naming/cover_codes.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <set>
#include <vector>

namespace {

using naming::CoverCode;
using naming::CoverCodes;
using naming::Doubt;

std::size_t ones_of(std::uint32_t word) {
  std::size_t ones = 0;
  for (std::uint32_t bit = 0; bit < 32; ++bit) ones += (word >> bit) & 1u;
  return ones;
}

}  // namespace

TEST_CASE("cover codes: words are different, never dark, and as few photographs as can be") {
  for (const std::size_t facets : {1u, 7u, 36u, 70u, 71u, 200u, 924u}) {
    CAPTURE(facets);
    const CoverCodes gray = naming::cover_codes(facets, CoverCode::gray);
    const CoverCodes half = naming::cover_codes(facets, CoverCode::half_open);
    for (const CoverCodes* codes : {&gray, &half}) {
      REQUIRE(codes->word_of.size() == facets);
      const std::set<std::uint32_t> words(codes->word_of.begin(), codes->word_of.end());
      CHECK(words.size() == facets);
      CHECK(*words.begin() > 0);
      CHECK(*words.rbegin() < (1u << codes->photos));
      std::size_t open = 0;
      for (std::size_t p = 0; p < codes->photos; ++p)
        open += naming::uncovered_in(*codes, p).size();
      std::size_t ones = 0;
      for (const std::uint32_t word : codes->word_of) ones += ones_of(word);
      CHECK(open == ones);
    }
    CHECK((std::size_t{1} << gray.photos) > facets);
    CHECK((std::size_t{1} << (gray.photos - 1)) <= facets);
    for (std::size_t i = 1; i < facets; ++i) {
      // Law of the reflected code: one step changes one digit.
      CHECK(ones_of(gray.word_of[i] ^ gray.word_of[i - 1]) == 1);
    }
    for (const std::uint32_t word : half.word_of) CHECK(ones_of(word) == half.photos / 2);
  }
  // Binomial coefficients: 70 words of 4 in 8, 252 of 5 in 10, 924 of 6 in 12.
  CHECK(naming::cover_codes(70, CoverCode::half_open).photos == 8);
  CHECK(naming::cover_codes(71, CoverCode::half_open).photos == 10);
  CHECK(naming::cover_codes(253, CoverCode::half_open).photos == 12);
  CHECK(naming::cover_codes(36, CoverCode::gray).photos == 6);
}

TEST_CASE("cover codes: a missed spot and two that ran together have nobody's word") {
  const CoverCodes codes = naming::cover_codes(12, CoverCode::half_open);
  naming::IdentifyTarget target;
  for (std::size_t i = 0; i < 12; ++i) {
    naming::Cell cell;
    cell.facet = i;
    cell.mark_m = {0.03 * static_cast<double>(i), 0.0};
    cell.sigma_rad = 0.003;
    cell.mark_per_tilt = base::Mat2(4.0, 0.0, 0.0, 4.0);
    target.cells.push_back(cell);
    target.names.push_back(fmt::format("F{}", i + 1));
  }
  std::vector<naming::BoardLook> looks(codes.photos);
  for (std::size_t p = 0; p < codes.photos; ++p) {
    looks[p].cells = naming::uncovered_in(codes, p);
    for (const std::size_t i : looks[p].cells) {
      // Facets 4 and 5 at one place; facet 8 is missed in one photograph.
      const std::size_t at = i == 4 ? 5 : i;
      const bool is_first = p == 0 || (codes.word_of[8] & ((1u << p) - 1u)) == 0;
      if (i == 8 && is_first) continue;
      looks[p].spots.push_back({.board_m = target.cells[at].mark_m});
    }
  }
  const auto found = naming::identify_by_codes(target, codes, looks, {});
  REQUIRE(found.ok());
  for (const auto& each : found.value().findings) {
    const bool is_lost = each.cell == 4 || each.cell == 5 || each.cell == 8;
    CAPTURE(each.cell);
    CHECK((each.doubt == Doubt::missing) == is_lost);
    CHECK((each.sentence == "") == !is_lost);
    if (!is_lost) {
      CHECK(looks[each.look].spots[each.spot].board_m == target.cells[each.cell].mark_m);
    }
  }
  looks.pop_back();
  CHECK_FALSE(naming::identify_by_codes(target, codes, looks, {}).ok());
}
