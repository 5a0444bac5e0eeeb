// Rounds at different elevations: gravity's part of the common errors told from the tracker's.
#include "align/over_elevation.h"

#include <doctest/doctest.h>

#include <cmath>

#include "align/causes.h"
#include "align/plan.h"
#include "align/rounds_story.h"
#include "base/units.h"
#include "support/figures.h"
#include "support/says.h"
#include "turning.h"

namespace {

using align::Mode;
using align_test::Field;

/// What moves all spots besides the facets' own tilts, as seen from the sun.
struct Sag {
  base::Vec2 offset_m{0.0, 0.0};  ///< the tracker's, at every elevation
  base::Vec2 shift_per_cosine_m{0.0, 0.0};
  double saddle_per_cosine = 0.0;  ///< m per m of radius
};

/// Looks at the dish at an elevation: gravity moves the spots by the cosine.
void look_at(Field& field, double elevation_deg, const Sag& sag) {
  field.look();
  dish::Round& round = field.file.rounds.back();
  round.elevation_rad = base::rad_from_deg(elevation_deg);
  const double cosine = std::cos(*round.elevation_rad);
  const auto sighting = align::sighting_of(field.file, {});
  for (std::size_t i = 0; i < round.spots.size(); ++i) {
    const base::Vec3 centre = field.file.facets[i].centre_m;
    const base::Vec2 by =
        sag.offset_m + cosine * sag.shift_per_cosine_m +
        cosine * sag.saddle_per_cosine * align::mode_basis(Mode::saddle, {centre.x, centre.y});
    round.spots[i].seen_m += align::board_from_sunward(sighting.dish_from_board, by);
  }
}

/// Three rounds with turns between them, as a plan tells them.
Field three_elevations(const Sag& sag, unsigned seed) {
  Field field(support::reference_dish(), {.tilt_sigma_rad = 0.003}, seed);
  for (const double elevation_deg : {25.0, 45.0, 65.0}) {
    look_at(field, elevation_deg, sag);
    if (elevation_deg > 60.0) break;
    const auto plan = align::make_plan(field.file, field.file.rounds.back(), {}).value();
    for (std::size_t i = 0; i < plan.facets.size(); ++i) {
      align::Turns turns{};
      for (std::size_t k = 0; k < 3; ++k) turns[k] = plan.facets[i].screws[k].clicks / 12.0;
      field.turn(i, turns);
    }
  }
  return field;
}

align::OverElevation told_of(const Field& field) {
  const auto sighting = align::sighting_of(field.file, {});
  const auto histories =
      align::histories_of(field.file, {.rounds = field.file.rounds.size(), .sighting = sighting});
  return align::over_elevation(field.file, histories, sighting, {}, 0.003);
}

const align::ModeOverElevation& mode_of(const align::OverElevation& over, Mode mode) {
  return over.modes.at(static_cast<std::size_t>(mode));
}

}  // namespace

// Source: derived, b(E) = b + g cos E put into the spots; tolerance 4 of the sigmas that the
// estimate claims for itself, and these must be small: with 36 facets, 2 mm and a twelfth of a turn
// over three rounds 1.5 mm for g.
TEST_CASE("gravity's part of the common errors is found through rounds of turns") {
  const Sag sag{
      .offset_m = {0.004, 0.0}, .shift_per_cosine_m = {0.0, 0.015}, .saddle_per_cosine = 0.02};
  const auto over = told_of(three_elevations(sag, 71));
  REQUIRE(over.modes.size() == align::k_modes);
  CHECK(over.note == "");
  CHECK(over.rounds == 3);
  const auto& up = mode_of(over, Mode::shift_y);
  const auto& saddle = mode_of(over, Mode::saddle);
  CHECK(std::abs(up.per_cosine - 0.015) < 4.0 * up.per_cosine_sigma);
  CHECK(up.per_cosine_sigma < 0.003);
  CHECK(std::abs(saddle.per_cosine - 0.02) < 4.0 * saddle.per_cosine_sigma);
  CHECK(up.significant);
  CHECK(saddle.significant);
  for (const Mode mode : {Mode::shift_x, Mode::radial, Mode::swirl, Mode::saddle_45}) {
    CHECK_FALSE(mode_of(over, mode).significant);
  }
  CAPTURE(up.sentence);
  CHECK(support::says(up.sentence, "From 25 to 65 degrees of elevation all spots move"));
  CHECK(support::says(up.sentence, "along y: frame or arm give way to gravity"));
  CHECK(support::says(saddle.sentence, "as a saddle: the frame bends with gravity"));
  support::record_figure("align/elevation_up_mm", base::mm_from_m(up.per_cosine));
}

TEST_CASE("a tracker offset alone is no gravity, whatever the elevation") {
  int alarms = 0;
  double squares = 0.0;
  constexpr unsigned k_dishes = 12;
  for (unsigned seed = 0; seed < k_dishes; ++seed) {
    const auto over = told_of(three_elevations({.offset_m = {0.006, -0.008}}, 100 + seed));
    REQUIRE(over.modes.size() == align::k_modes);
    for (const auto& mode : over.modes) {
      alarms += mode.significant ? 1 : 0;
      squares += base::square(mode.per_cosine / mode.per_cosine_sigma);
    }
  }
  CHECK(alarms == 0);
  // Claimed sigmas are true ones: the rms of 72 scores is 1 within four of its errors, 0.083.
  CHECK(std::abs(std::sqrt(squares / (k_dishes * align::k_modes)) - 1.0) < 0.33);
}

TEST_CASE("rounds that cannot tell gravity say so, or nothing") {
  Field field(support::reference_dish(), {}, 5);
  field.look();
  field.look();
  CHECK(told_of(field).note == "");
  CHECK(told_of(field).rounds == 0);
  field.file.rounds[0].elevation_rad = base::rad_from_deg(60.0);
  field.file.rounds[1].elevation_rad = base::rad_from_deg(64.0);
  CHECK(support::says(told_of(field).note, "too near each other in elevation"));
  field.file.rounds[1].elevation_rad = base::rad_from_deg(20.0);
  field.file.rounds[0].left_out = {true, true};
  const auto set = told_of(field);
  CHECK(support::says(set.note, "The tracker was set between rounds"));
  CHECK(set.modes.size() == 4);
  field.file.rounds[1].spots.resize(5);
  CHECK(support::says(told_of(field).note, "5 facets were seen in every round"));
}

TEST_CASE("the story of the rounds tells of gravity") {
  const Field field = three_elevations({.shift_per_cosine_m = {0.0, -0.03}}, 72);
  const auto story = align::tell_rounds(field.file, {.watts = false, .labels = false});
  REQUIRE(story.ok());
  const auto lines = align::elevation_lines(story.value().over_elevation);
  REQUIRE(!lines.empty());
  CHECK(support::says(lines[0], "along y: frame or arm give way to gravity"));
}
