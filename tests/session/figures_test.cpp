// Figures that several panels show.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "base/units.h"
#include "dish/defaults.h"
#include "session/figures.h"
#include "session/sitting.h"
#include "session/told.h"

namespace {

using session::Session;
namespace act = session::act;

Session on_default() { return sitting::on(dish::default_dish()); }

}  // namespace

TEST_CASE("a dial shows the turns of a displacement as the angle of its slot") {
  // An M6 push screw turned from behind moves its corner 1 mm to the sun for a clockwise turn
  // (lead: ISO 261; sense: DEVELOPERS.md, "Which way a screw moves its corner").
  Session session = on_default();
  session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 0.00125)});
  const auto figures = session::screw_figures(session, 0, 0);
  REQUIRE(figures.has_value());
  CHECK(figures->turns == doctest::Approx(1.25).epsilon(1e-12));
  CHECK(figures->dial_angle_rad == doctest::Approx(base::k_pi / 2).epsilon(1e-9));
  CHECK(figures->click_m == doctest::Approx(0.001 / 12).epsilon(1e-12));
  CHECK_FALSE(figures->seen_from_behind_it);
  CHECK(figures->caliper_now_m - figures->caliper_m == doctest::Approx(0.00125).epsilon(1e-12));
  session::apply(session, {act::SetSide{dish::Side::front}});
  const auto mirrored = session::screw_figures(session, 0, 0);
  CHECK(mirrored->seen_from_behind_it);
  CHECK(mirrored->dial_angle_rad == doctest::Approx(1.5 * base::k_pi).epsilon(1e-9));
}

TEST_CASE("turns and displacements are each other's inverse for every kind of screw") {
  for (const dish::Hand hand : {dish::Hand::right, dish::Hand::left}) {
    for (const dish::Side side : {dish::Side::back, dish::Side::front}) {
      for (const dish::Carry carry : {dish::Carry::with, dish::Carry::against}) {
        const dish::Adjuster screw{
            .pitch_m = 0.00125, .hand = hand, .turned_from = side, .carry = carry};
        const double rise_m = session::displacement_of_turns(screw, 0.3);
        CHECK(std::abs(rise_m) == doctest::Approx(0.3 * 0.00125).epsilon(1e-12));
        CHECK(adjusters::turns_from_rise(screw, rise_m) == doctest::Approx(0.3).epsilon(1e-12));
      }
    }
  }
}

TEST_CASE("clicks end at the end of the travel, on it but not beyond") {
  Session session = on_default();
  const dish::Adjuster screw = *session::adjuster_of(session, 0, 0);
  const double click_m = session::screw_figures(session, 0, 0)->click_m;
  session::apply(
      session, {sitting::displace(sitting::first_facet(session), 0, screw.travel_max_m - click_m)});
  CHECK(session::turn_by_clicks(session, 0, 0, 1).has_value());
  CHECK_FALSE(session::turn_by_clicks(session, 0, 0, 2).has_value());
  CHECK_FALSE(session::turn_by_clicks(session, 0, 3, 1).has_value());
  CHECK_FALSE(session::turn_by_clicks(session, 999, 0, 1).has_value());
  CHECK(session::within_travel(screw, 1.0) == screw.travel_max_m);
  CHECK(session::within_travel(screw, -1.0) == screw.travel_min_m);
}

TEST_CASE("a screw that is not there has no figures") {
  const Session session = on_default();
  CHECK_FALSE(session::screw_figures(session, 0, -1).has_value());
  CHECK_FALSE(session::screw_figures(session, 0, 3).has_value());
  CHECK_FALSE(session::screw_figures(session, 12345, 0).has_value());
}

TEST_CASE("the watts' shares add up to the sunlight on the aperture") {
  for (const Session& session : {on_default(), sitting::at_nominal()}) {
    const optics::Ledger& ledger = session::light_of(session)->ledger;
    double sum_W = 0.0;
    double sum_of_incident = 0.0;
    for (const session::WattShare& share : session::watt_shares(ledger)) {
      sum_W += share.watts;
      sum_of_incident += share.of_incident;
      CHECK(share.watts != 0.0);
    }
    CHECK(sum_W == doctest::Approx(ledger.incident_W).epsilon(1e-9));
    CHECK(sum_of_incident == doctest::Approx(1.0).epsilon(1e-9));
    CHECK_FALSE(session::watt_shares(ledger).back().lost);
  }
  CHECK(session::watt_shares({}).empty());
}

TEST_CASE("facets are coloured by what is known of them") {
  Session session = on_default();
  CHECK_FALSE(session::tint_span(session).has_value());
  session::apply(session, {act::SetTint{session::Tint::tilt},
                           sitting::displace(sitting::first_facet(session), 0, 0.001)});
  // One screw of three on a circle of 80 mm moved by 1 mm: atan(1 / 120).
  CHECK(*session::tint_value(session, 0) == doctest::Approx(std::atan(1.0 / 120)).epsilon(1e-9));
  CHECK(session::tint_span(session)->most == *session::tint_value(session, 0));
  CHECK(session::tint_span(session)->least < 1e-12);
  session::apply(session, {act::SetTint{session::Tint::power}});
  CHECK(*session::tint_value(session, 0) == session::light_of(session)->facets[0].power_W);
  session::apply(session, {act::SetTint{session::Tint::travel}});
  CHECK(session::tint_span(session)->least == *session::tint_value(session, 0));
  CHECK_FALSE(session::tint_value(session, 12345).has_value());
}

TEST_CASE("the hovered facet stands out before the selected one") {
  Session session = on_default();
  const auto& facets = session.document.dish.facets;
  CHECK_FALSE(session::highlighted_facet(session).has_value());
  session::apply(session, {act::Select{facets[3].id, 1}});
  CHECK(*session::highlighted_facet(session) == 3);
  session::apply(session, {act::Hover{facets[5].id}});
  CHECK(*session::highlighted_facet(session) == 5);
  CHECK(*session::selected_facet(session) == 3);
  session::apply(session, {act::Hover{}});
  CHECK(*session::highlighted_facet(session) == 3);
}

TEST_CASE("the told turn is worded for the side the person stands on") {
  const session::ToldTurn told{.clicks = 3, .clicks_per_turn = 12};
  const std::string back = session::words_of(told, dish::Side::back);
  const std::string front = session::words_of(told, dish::Side::front);
  CHECK(back.find("seen from the back") != std::string::npos);
  CHECK(front.find("anticlockwise, seen from the front") != std::string::npos);
}

TEST_CASE("exposure stays within what can be shown") {
  Session session = on_default();
  session::apply(session, {act::SetExposure{1e9}});
  CHECK(session.preferences.exposure_stops == 8.0);
  session::apply(session, {act::SetExposure{std::numeric_limits<double>::quiet_NaN()}});
  CHECK(session.preferences.exposure_stops == 8.0);
}
