// Covers that open by a code: the words, what is read from them, and how often it is right.
#include "align/cover_codes.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "align/practice_session.h"
#include "reference_dish.h"
#include "trials.h"

namespace {

using align::CoverCode;
using align::CoverCodes;
using align::Doubt;
using align_test::k_is_slow;

constexpr int k_code_trials = k_is_slow ? 4 : 40;

std::size_t ones_of(std::uint32_t word) {
  std::size_t ones = 0;
  for (std::uint32_t bit = 0; bit < 32; ++bit) ones += (word >> bit) & 1u;
  return ones;
}

struct CodeFigures {
  double right = 0.0;   ///< share of trials without a wrong name
  double missed = 0.0;  ///< facets without a name, in a trial
};

/// One column of the table: 0 mrad stands for 5 to 20 in any direction.
CodeFigures code_figures(double before_focus_m, CoverCode code, double mrad) {
  const dish::Dish dish = align_test::reference_dish();
  align::PracticeSettings settings;
  settings.scheme = {.before_focus_m = before_focus_m, .code = code};
  settings.errors = {.tilt_rad = mrad * 1e-3, .gain = 0.0};
  if (mrad == 0.0) settings.errors.between_rad = {{0.005, 0.020}};
  settings.camera.board_half_width_m = 0.45;
  settings.identify.uses_flux = false;
  const auto made = align::set_stage(dish, settings);
  REQUIRE(made.ok());
  const align::PracticeStage& stage = made.value();
  CodeFigures figures;
  for (int trial = 0; trial < k_code_trials; ++trial) {
    align::Draws draws(91, static_cast<std::uint32_t>(trial), 7);
    const auto hidden = align::hide(stage.practice, settings.errors, draws);
    std::vector<align::BoardLook> looks;
    std::vector<align::PracticePhoto> seen;
    for (std::size_t photo = 0; photo < stage.codes.photos; ++photo) {
      align::BoardLook look{.cells = align::uncovered_in(stage.codes, photo)};
      seen.push_back(align::observe(stage.practice, hidden, stage.truth, look.cells,
                                    settings.camera, stage.diameter_m, draws));
      look.spots = seen.back().spots;
      looks.push_back(look);
    }
    const auto found =
        align::identify_by_codes(stage.first, stage.codes, looks, stage.settings.identify);
    REQUIRE(found.ok());
    bool is_right = true;
    for (const auto& each : found.value().findings) {
      figures.missed += each.doubt == Doubt::none ? 0.0 : 1.0 / k_code_trials;
      if (each.doubt != Doubt::none) continue;
      const auto& owners = seen[each.look].owners[each.spot];
      is_right = is_right && std::count(owners.begin(), owners.end(), each.cell) > 0;
    }
    figures.right += is_right ? 1.0 / k_code_trials : 0.0;
  }
  return figures;
}

}  // namespace

TEST_CASE("cover codes: words are different, never dark, and as few photographs as can be") {
  for (const std::size_t facets : {1u, 7u, 36u, 70u, 71u, 200u, 924u}) {
    CAPTURE(facets);
    const CoverCodes gray = align::cover_codes(facets, CoverCode::gray);
    const CoverCodes half = align::cover_codes(facets, CoverCode::half_open);
    for (const CoverCodes* codes : {&gray, &half}) {
      REQUIRE(codes->word_of.size() == facets);
      const std::set<std::uint32_t> words(codes->word_of.begin(), codes->word_of.end());
      CHECK(words.size() == facets);
      CHECK(*words.begin() > 0);
      CHECK(*words.rbegin() < (1u << codes->photos));
      std::size_t open = 0;
      for (std::size_t p = 0; p < codes->photos; ++p) open += align::uncovered_in(*codes, p).size();
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
  CHECK(align::cover_codes(70, CoverCode::half_open).photos == 8);
  CHECK(align::cover_codes(71, CoverCode::half_open).photos == 10);
  CHECK(align::cover_codes(253, CoverCode::half_open).photos == 12);
  CHECK(align::cover_codes(36, CoverCode::gray).photos == 6);
}

TEST_CASE("cover codes: a missed spot and two that ran together have nobody's word") {
  const CoverCodes codes = align::cover_codes(12, CoverCode::half_open);
  align::IdentifyTarget target;
  for (std::size_t i = 0; i < 12; ++i) {
    align::Cell cell;
    cell.facet = i;
    cell.mark_m = {0.03 * static_cast<double>(i), 0.0};
    cell.sigma_rad = 0.003;
    cell.mark_per_tilt = base::Mat2(4.0, 0.0, 0.0, 4.0);
    target.cells.push_back(cell);
    target.names.push_back(fmt::format("F{}", i + 1));
  }
  std::vector<align::BoardLook> looks(codes.photos);
  for (std::size_t p = 0; p < codes.photos; ++p) {
    looks[p].cells = align::uncovered_in(codes, p);
    for (const std::size_t i : looks[p].cells) {
      // Facets 4 and 5 at one place; facet 8 is missed in one photograph.
      const std::size_t at = i == 4 ? 5 : i;
      const bool is_first = p == 0 || (codes.word_of[8] & ((1u << p) - 1u)) == 0;
      if (i == 8 && is_first) continue;
      looks[p].spots.push_back({.board_m = target.cells[at].mark_m});
    }
  }
  const auto found = align::identify_by_codes(target, codes, looks, {});
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
  CHECK_FALSE(align::identify_by_codes(target, codes, looks, {}).ok());
}

// Source: the design page's table of identification success, binary covers: P(no wrong name) at 3,
// 5, 7 mrad per axis and from 5 to 20 mrad. Gray, six photographs, 0.3 f: 1.00, 0.91, 0.65, 0.21;
// four open of eight, 0.3 f: 1.00, 0.98, 0.83, 0.59; 0.4 f: 1.00, 1.00, 1.00, 0.97. Ours do better
// (0.96 at the least), because a place with two spots in one photograph, or far from the facet's
// own, is left without a name: held from below, two sigma of 40 trials, and to all trials for the
// half-open words, where a merge has too many photographs and a miss too few.
TEST_CASE("cover codes: names are right as often as the table says, or more") {
  const struct {
    CoverCode code;
    double before_focus_m;
    std::array<double, 4> right;
    std::array<double, 4> most_missed;
  } rows[] = {
      {CoverCode::gray, 0.6, {1.00, 0.91, 0.65, 0.21}, {4.0, 4.0, 6.0, 8.0}},
      {CoverCode::half_open, 0.6, {1.00, 0.98, 0.83, 0.59}, {3.0, 3.0, 5.0, 8.0}},
      {CoverCode::half_open, 0.8, {1.00, 1.00, 1.00, 0.97}, {3.0, 3.0, 3.0, 4.0}},
  };
  const std::array<double, 4> columns{3.0, 5.0, 7.0, 0.0};
  for (const auto& row : rows) {
    for (std::size_t c = 0; c < 4; ++c) {
      const CodeFigures ours = code_figures(row.before_focus_m, row.code, columns[c]);
      const std::string line =
          fmt::format("{} m, {} mrad: {:.3f} right, {:.2f} missed, published {:.2f}",
                      row.before_focus_m, columns[c], ours.right, ours.missed, row.right[c]);
      MESSAGE(line);
      CAPTURE(line);
      CHECK(ours.right > row.right[c] - (k_is_slow ? 0.3 : 0.08));
      if (row.code == CoverCode::half_open) CHECK(ours.right > 0.999);
      CHECK(ours.missed < row.most_missed[c] + (k_is_slow ? 2.0 : 0.0));
    }
  }
}

TEST_CASE("cover codes: with all spots at one place there is next to no name") {
  // Source: the same table: 0.00 with the spots left at the stack, for they run together.
  for (const CoverCode code : {CoverCode::gray, CoverCode::half_open}) {
    CHECK(code_figures(0.0, code, 3.0).missed > 32.0);
  }
}

TEST_CASE("cover codes: a session by half-open covers is as good as one by groups") {
  const dish::Dish dish = align_test::reference_dish();
  align::PracticeSettings settings{.scheme = {.before_focus_m = 0.6, .code = CoverCode::half_open},
                                   .rounds = 1};
  settings.camera.board_half_width_m = 0.35;
  settings.identify.board_area_m2 = 0.49;
  const auto stage = align::set_stage(dish, settings);
  REQUIRE(stage.ok());
  constexpr int k_sessions = k_is_slow ? 3 : 30;
  double squares = 0.0;
  double photos = 0.0;
  for (int trial = 0; trial < k_sessions; ++trial) {
    const auto session = align::play(stage.value(), 8, static_cast<std::uint32_t>(trial));
    squares += 1e6 * base::square(session.rounds[0].rms_rad) / k_sessions;
    photos += static_cast<double>(session.rounds[0].photos) / k_sessions;
    CHECK(session.rounds[0].wrong == 0);
  }
  // Source: the table of residuals, 0.3 f in three groups from 3 mrad: 1.37; four standard errors
  // of both, and 0.05 for the looks of which only the first counts.
  const double error =
      std::hypot(align_test::rms_error(150, 36), align_test::rms_error(k_sessions, 36));
  CHECK(std::abs(std::sqrt(squares) - 1.37) < 4.0 * 1.37 * error + 0.05);
  CHECK(photos > 8.0);
  CHECK(photos < 12.0);
}
