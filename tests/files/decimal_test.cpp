// Laws of numbers as text: mm, mrad and degrees in a file are exactly what the dish holds.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <cstring>
#include <random>

#include "base/units.h"
#include "dish/ranges.h"
#include "files/decimal.h"
#include "files/unit_text.h"

namespace {

using dish::ranges::Unit;

/// Finite doubles of every size, from raw bits.
std::vector<double> doubles_of_all_sizes(int count) {
  std::mt19937_64 bits(20240611);
  std::vector<double> values;
  while (static_cast<int>(values.size()) < count) {
    const std::uint64_t raw = bits();
    double value = 0.0;
    std::memcpy(&value, &raw, sizeof value);
    if (std::isfinite(value)) values.push_back(value);
  }
  return values;
}

/// Doubles between 1e-9 and 1e4, as lengths and angles of a dish are.
std::vector<double> ordinary_doubles(int count) {
  std::mt19937_64 bits(7);
  std::vector<double> values;
  for (int i = 0; i < count; ++i) {
    const double unit = static_cast<double>(bits() >> 11U) * 0x1p-53;
    const double size = std::pow(10.0, -9.0 + 13.0 * static_cast<double>(bits() % 1000) / 1000.0);
    values.push_back((bits() % 2 == 0 ? 1.0 : -1.0) * (0.1 + 0.9 * unit) * size);
  }
  return values;
}

}  // namespace

TEST_CASE("a millimetre in the file is the nearest double of its thousandth") {
  CHECK(files::si_from_text(Unit::millimetre, "0.7") == 0.0007);
  CHECK(files::si_from_text(Unit::millimetre, "250") == 0.25);
  CHECK(files::si_from_text(Unit::millimetre, "1.1") == 0.0011);
  CHECK(files::si_from_text(Unit::milliradian, "4.65") == 0.00465);
  CHECK(files::si_from_text(Unit::newton_per_mm, "0.3") == 300.0);
  // The tempting division is one bit off here, and its text would be 4.6499999999999995.
  CHECK(4.65 / 1000.0 != 0.00465);
}

TEST_CASE("numbers are written as a person would write them") {
  CHECK(files::text_from_si(Unit::millimetre, 0.0007) == "0.7");
  CHECK(files::text_from_si(Unit::millimetre, 0.25) == "250");
  CHECK(files::text_from_si(Unit::millimetre, -0.0078125) == "-7.8125");
  CHECK(files::text_from_si(Unit::milliradian, 0.00465) == "4.65");
  CHECK(files::text_from_si(Unit::newton_per_mm, 2000.0) == "2");
  CHECK(files::text_from_si(Unit::metre, 2.0) == "2");
  CHECK(files::text_from_number(0.0) == "0");
  CHECK(files::text_from_number(-0.0) == "0");
  CHECK(files::text_from_number(1e-7) == "1e-7");
  CHECK(files::text_from_number(-1.25e-9) == "-1.25e-9");
  CHECK(files::text_from_number(0.00001) == "0.00001");
  CHECK(files::text_from_number(1e22) == "1e22");
  CHECK(files::text_from_number(123456789012345680.0) == "1.2345678901234568e17");
}

TEST_CASE("every double survives the way to text and back, in every shift") {
  for (const double value : doubles_of_all_sizes(20000)) {
    for (const int shift : {-3, 0, 3}) {
      const std::string text = files::text_from_number(value, shift);
      const std::optional<double> back = files::number_from_text(text, -shift);
      REQUIRE_MESSAGE(back.has_value(), text);
      REQUIRE_MESSAGE(*back == value, text);
    }
  }
  for (const double value : {5e-324, -5e-324, 2.2250738585072014e-308, 1.7976931348623157e308}) {
    CHECK(files::number_from_text(files::text_from_number(value, 3), -3) == value);
    CHECK(files::number_from_text(files::text_from_number(value, -3), 3) == value);
  }
}

TEST_CASE("text with up to 15 digits comes back as it was") {
  // A decimal of 15 digits is told apart by a double (IEEE 754, DBL_DIG = 15), in any unit.
  std::mt19937_64 bits(3);
  for (int i = 0; i < 20000; ++i) {
    const auto whole = static_cast<std::int64_t>(bits() % 1000000000000000ULL);
    const files::Decimal decimal{.negative = bits() % 2 == 0,
                                 .digits = std::to_string(whole + 1),
                                 .point = static_cast<int>(bits() % 9) - 3};
    const std::string text = files::to_text(decimal);
    for (const Unit unit :
         {Unit::metre, Unit::millimetre, Unit::milliradian, Unit::newton_per_mm}) {
      const std::optional<double> si = files::si_from_text(unit, text);
      REQUIRE(si.has_value());
      REQUIRE(files::text_from_si(unit, *si) == text);
    }
  }
}

TEST_CASE("degrees: the short text is the one a field on screen shows") {
  for (int degrees = -360; degrees <= 360; ++degrees) {
    const double rad = base::rad_from_deg(degrees);
    CHECK(files::degrees_text_from_rad(rad) == std::to_string(degrees));
    CHECK(files::rad_from_degrees_text(std::to_string(degrees)) == rad);
  }
  CHECK(files::degrees_text_from_rad(base::rad_from_deg(22.5)) == "22.5");
  CHECK(files::degrees_text_from_rad(base::rad_from_deg(-0.01)) == "-0.01");
  CHECK(files::rad_from_degrees_text("180") == base::k_pi);
}

TEST_CASE("degrees: every angle survives the way to text and back") {
  for (const double rad : ordinary_doubles(30000)) {
    const std::string text = files::degrees_text_from_rad(rad);
    const std::optional<double> back = files::rad_from_degrees_text(text);
    REQUIRE_MESSAGE(back.has_value(), text);
    REQUIRE_MESSAGE(*back == rad, text);
  }
}

TEST_CASE("degrees: seventeen digits mean the exact product with pi / 180") {
  // pi/180 times 57.295779513082321 is 1.00000000000000000215 (long multiplication
  // with pi = 3.14159265358979323846264338327950288), nearest double 1.
  CHECK(files::rad_from_degrees_text("57.295779513082321") == 1.0);
  CHECK(files::rad_from_degrees_text("-57.295779513082321") == -1.0);
  // Some doubles are the product of no double: their text has all seventeen digits.
  int long_texts = 0;
  for (const double rad : ordinary_doubles(1000)) {
    if (files::degrees_text_from_rad(rad).size() >= 18) ++long_texts;
  }
  CHECK(long_texts > 0);
  CHECK(long_texts < 1000);
}

TEST_CASE("angles too small to matter are zero both ways") {
  CHECK(files::rad_from_degrees_text("1e-300") == 0.0);
  CHECK(files::degrees_text_from_rad(1e-300) == "0");
}

TEST_CASE("what is no decimal number is refused") {
  for (const char* text : {"",     " ",     "-",     "+",    ".",     "e5",      "1e",  "1e+",
                           "1 ",   " 1",    "1,5",   "0x10", "NaN",   "nan",     "inf", "Infinity",
                           "-inf", "1.2.3", "1e5.5", "--1",  "1_000", "\xC2\xBD"}) {
    CHECK_MESSAGE(!files::number_from_text(text), text);
    CHECK_MESSAGE(!files::rad_from_degrees_text(text), text);
  }
  CHECK(!files::number_from_text("1e999"));
  CHECK(!files::number_from_text("-1e306", 3));
  CHECK(!files::number_from_text(std::string(401, '1')));
  CHECK(files::number_from_text(std::string(300, '1')).has_value());
}

TEST_CASE("number texts that people write") {
  CHECK(files::number_from_text("+1.5") == 1.5);
  CHECK(files::number_from_text(".5") == 0.5);
  CHECK(files::number_from_text("5.") == 5.0);
  CHECK(files::number_from_text("1E3") == 1000.0);
  CHECK(files::number_from_text("1e-2") == 0.01);
  CHECK(files::number_from_text("0001.500") == 1.5);
  CHECK(files::number_from_text("0e999999999999") == 0.0);
  CHECK(files::number_from_text("1e-999999999999") == 0.0);
  const std::optional<double> minus_zero = files::number_from_text("-0");
  REQUIRE(minus_zero.has_value());
  CHECK(!std::signbit(*minus_zero));
}

TEST_CASE("both ends of every range can be written in a file") {
  for (std::size_t i = 0; i < dish::ranges::k_count; ++i) {
    const auto quantity = static_cast<dish::ranges::Quantity>(i);
    const dish::ranges::Range& range = dish::ranges::of(quantity);
    CAPTURE(range.key);
    CAPTURE(range.words);
    for (const double end : {range.least, range.most}) {
      const std::string text = files::text_from_si(range.unit, end);
      CHECK(files::si_from_text(range.unit, text) == end);
      CHECK(text.size() <= 8);
    }
  }
}
