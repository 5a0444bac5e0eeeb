// Finds the command, checks its operands, prints the help.
#include "cli/program.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/closest.h"
#include "cli/command.h"
#include "cli/version.h"

namespace cli {
namespace {

std::string general_help() {
  std::string text =
      "facetwright: lays out, traces and aligns concentrating mirrors made of many facets.\n\n"
      "  facetwright COMMAND [OPTIONS] ...\n\n";
  for (const Command& command : commands()) {
    text += fmt::format("  {:<8} {}\n", command.name, command.summary);
  }
  text +=
      "\n  facetwright COMMAND --help   what a command takes, with an example\n"
      "  facetwright --version        the version of the program and of its dish files\n\n"
      "Results go to standard output, messages to standard error. \"-\" reads standard input.\n"
      "Exit codes: 0 done, 2 bad input, 1 an internal fault.\n\n"
      "Concentrated sunlight blinds, burns and starts fires within a second. Cover the facets "
      "while\n"
      "you work on them, never look into the spot or a facet's reflection, and keep water at "
      "hand.\n";
  return text;
}

std::string command_help(const Command& command, std::vector<Option> options) {
  std::sort(options.begin(), options.end(),
            [](const Option& a, const Option& b) { return a.name < b.name; });
  return fmt::format(
      "{}\n\n  facetwright {}{}{} [OPTIONS]\n\n{}\n\nOptions:\n{}\nExample:\n  "
      "facetwright {}\n",
      command.summary, command.name, command.operands[0] != '\0' ? " " : "", command.operands,
      command.details, help_lines(options), command.example);
}

base::Problem unknown_command(const std::string& word) {
  std::vector<std::string> names;
  for (const Command& command : commands()) names.emplace_back(command.name);
  const auto near = base::closest(word, names);
  return {
      word, "there is no such command",
      near ? fmt::format("perhaps {}", *near) : fmt::format("one of {}", fmt::join(names, ", "))};
}

int print(const Console& console, const std::string& text) { return deliver(console, {}, text); }

int run_command(const Command& command, const std::vector<std::string>& words,
                const Console& console) {
  std::vector<Option> options = command.options();
  options.push_back({"--help", "", "Print this."});
  if (std::find(words.begin(), words.end(), "--help") != words.end()) {
    return print(console, command_help(command, options));
  }
  const auto given = read_options(words, options);
  if (!given) return report(console, given.problems());
  const std::size_t operands = given.value().operands.size();
  if (operands < command.least_operands) {
    return report(console, {{command.name, "a file is missing",
                             fmt::format("facetwright {} {}", command.name, command.operands)}});
  }
  if (operands > command.most_operands) {
    return report(console, {{command.name, given.value().operands[command.most_operands],
                             "no further word here"}});
  }
  return command.carry_out(given.value(), console);
}

}  // namespace

int run_program(const std::vector<std::string>& words, const Console& console) {
  if (words.empty()) {
    return report(console, {{"facetwright", "no command", "one of those that --help lists"}});
  }
  if (words[0] == "--help") return print(console, general_help());
  if (words[0] == "--version") return print(console, version_text());
  for (const Command& command : commands()) {
    if (words[0] == command.name) {
      return run_command(command, {words.begin() + 1, words.end()}, console);
    }
  }
  return report(console, {unknown_command(words[0])});
}

}  // namespace cli
