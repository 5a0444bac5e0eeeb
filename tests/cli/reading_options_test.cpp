// The command line's parser: what it takes, and how it names what it does not.
#include <doctest/doctest.h>

#include "cli/options.h"

namespace {

const std::vector<cli::Option>& table() {
  static const std::vector<cli::Option> options{
      {"--rays", "N", "Rays."}, {"--sun-x-mrad", "X", "Sun."}, {"--json", "", "JSON."}};
  return options;
}

std::string only_problem(const std::vector<std::string>& words) {
  const auto given = cli::read_options(words, table());
  if (given) return "none";
  return base::to_text(given.problems());
}

}  // namespace

TEST_CASE("options take the next word or what follows the equals sign; the rest are operands") {
  const auto given = cli::read_options(
      {"a.json", "--rays", "12", "--sun-x-mrad=-3.5", "--json", "-", "--", "--odd"}, table());
  REQUIRE(given.ok());
  CHECK(given.value().operands == std::vector<std::string>{"a.json", "-", "--odd"});
  CHECK(cli::whole_of(given.value(), "--rays", 1, 100).value().value() == 12);
  CHECK(cli::number_of(given.value(), "--sun-x-mrad", {-5.0, 5.0}).value().value() == -3.5);
  CHECK(given.value().has("--json"));
}

TEST_CASE("an unknown option names the closest one") {
  CHECK(only_problem({"--ray", "1"}) ==
        "--ray: there is no such option; expected perhaps --rays\n");
  CHECK(only_problem({"--jsno"}) == "--jsno: there is no such option; expected perhaps --json\n");
  CHECK(only_problem({"--frobnicate"}) ==
        "--frobnicate: there is no such option; expected one that --help lists\n");
}

TEST_CASE("a missing value, a doubled option and a value for a switch are told") {
  CHECK(only_problem({"--rays"}) == "--rays: its value is missing; expected N\n");
  CHECK(only_problem({"--json", "--json"}) == "--json: given twice; expected each option once\n");
  CHECK(only_problem({"--json=yes"}) == "--json: yes; expected no value: it is a switch\n");
}

TEST_CASE("numbers are whole texts in range, with a decimal point in every locale") {
  for (const char* text : {"", "1x", "0x10", "nan", "inf", "1,5", "1e999", " 1", "--1"}) {
    CAPTURE(text);
    CHECK_FALSE(cli::parse_number(text).has_value());
  }
  CHECK(cli::parse_number("+1.5e3").value() == 1500.0);
  cli::Given given;
  given.options = {{"--n", "-1"}, {"--list", "1,2,3"}, {"--word", "ringz"}};
  CHECK_FALSE(cli::whole_of(given, "--n", 0, 9).ok());
  CHECK_FALSE(cli::number_of(given, "--n", {0.0, 1.0}).ok());
  CHECK(cli::numbers_of(given, "--list", 3, {0.0, 9.0}).value().value()[2] == 3.0);
  CHECK_FALSE(cli::numbers_of(given, "--list", 2, {0.0, 9.0}).ok());
  CHECK(cli::word_of(given, "--word", {"rings", "lattice"}).problems()[0].expected ==
        "one of rings, lattice (perhaps rings)");
}

TEST_CASE("help lines wrap beside the option's name") {
  const std::string help = cli::help_lines(
      {{"--a", "N", std::string(40, 'x') + " " + std::string(40, 'y')}, {"--json", "", "Short."}});
  CHECK(help == "  --a N" + std::string(21, ' ') + std::string(40, 'x') + "\n" +
                    std::string(28, ' ') + std::string(40, 'y') + "\n  --json" +
                    std::string(20, ' ') + "Short.\n");
}
