// Reads the command line by its table of options.
#include "cli/options.h"

#include <fast_float/fast_float.h>
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "base/closest.h"

namespace cli {
namespace {

const Option* find_option(const std::vector<Option>& options, const std::string& name) {
  const auto found = std::find_if(options.begin(), options.end(),
                                  [&](const Option& option) { return option.name == name; });
  return found == options.end() ? nullptr : &*found;
}

base::Problem unknown_option(const std::string& name, const std::vector<Option>& options) {
  std::vector<std::string> names;
  for (const Option& option : options) names.push_back(option.name);
  const std::optional<std::string> near = base::closest(name, names);
  return {name, "there is no such option",
          near ? fmt::format("perhaps {}", *near) : "one that --help lists"};
}

std::string limits_text(Limits limits) {
  return fmt::format("a number from {} to {}", limits.least, limits.most);
}

/// Breaks text into lines of at most `width` characters, between words.
std::vector<std::string> wrapped(const std::string& text, std::size_t width) {
  std::vector<std::string> lines(1);
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    const std::string word = text.substr(at, end - at);
    if (!lines.back().empty() && lines.back().size() + 1 + word.size() > width) {
      lines.emplace_back();
    }
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    at = end + 1;
  }
  return lines;
}

}  // namespace

std::optional<std::string> Given::text(const std::string& name) const {
  const auto found = options.find(name);
  if (found == options.end()) return std::nullopt;
  return found->second;
}

base::Result<Given> read_options(const std::vector<std::string>& words,
                                 const std::vector<Option>& options) {
  Given given;
  base::Problems problems;
  bool options_over = false;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (options_over || word.size() < 2 || word[0] != '-') {
      given.operands.push_back(word);
      continue;
    }
    if (word == "--") {
      options_over = true;
      continue;
    }
    const std::size_t equals = word.find('=');
    const std::string name = word.substr(0, equals);
    const Option* option = find_option(options, name);
    if (option == nullptr) {
      problems.push_back(unknown_option(name, options));
      continue;
    }
    std::string value;
    if (equals != std::string::npos) {
      value = word.substr(equals + 1);
      if (option->argument.empty()) problems.push_back({name, value, "no value: it is a switch"});
    } else if (!option->argument.empty()) {
      if (i + 1 == words.size()) {
        problems.push_back({name, "its value is missing", option->argument});
        continue;
      }
      value = words[++i];
    }
    if (!given.options.emplace(name, value).second) {
      problems.push_back({name, "given twice", "each option once"});
    }
  }
  if (!problems.empty()) return problems;
  return given;
}

std::optional<double> parse_number(std::string_view text) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0.0;
  const auto [end, error] = fast_float::from_chars(text.data(), text.data() + text.size(), value);
  const bool whole = error == std::errc() && end == text.data() + text.size();
  if (!whole || text.empty() || !std::isfinite(value)) return std::nullopt;
  return value;
}

base::Result<std::optional<double>> number_of(const Given& given, const std::string& name,
                                              Limits limits) {
  const std::optional<std::string> text = given.text(name);
  if (!text) return std::optional<double>();
  const std::optional<double> value = parse_number(*text);
  if (!value || *value < limits.least || *value > limits.most) {
    return base::Problem{name, *text, limits_text(limits)};
  }
  return value;
}

base::Result<std::optional<unsigned long long>> whole_of(const Given& given,
                                                         const std::string& name,
                                                         unsigned long long least,
                                                         unsigned long long most) {
  const std::optional<std::string> text = given.text(name);
  if (!text) return std::optional<unsigned long long>();
  unsigned long long value = 0;
  const char* const last = text->data() + text->size();
  const auto [end, error] = std::from_chars(text->data(), last, value);
  if (error != std::errc() || end != last || value < least || value > most) {
    return base::Problem{name, *text, fmt::format("a whole number from {} to {}", least, most)};
  }
  return std::optional<unsigned long long>(value);
}

base::Result<std::optional<std::vector<double>>> numbers_of(const Given& given,
                                                            const std::string& name,
                                                            std::size_t count, Limits limits) {
  const std::optional<std::string> text = given.text(name);
  if (!text) return std::optional<std::vector<double>>();
  const base::Problem problem{
      name, *text,
      count == 0 ? std::string("numbers with commas between")
                 : fmt::format("{} numbers with commas between, each from {} to {}", count,
                               limits.least, limits.most)};
  std::vector<double> values;
  std::size_t at = 0;
  while (at <= text->size()) {
    const std::size_t end = std::min(text->find(',', at), text->size());
    const std::optional<double> value = parse_number(std::string_view(*text).substr(at, end - at));
    if (!value || *value < limits.least || *value > limits.most) return problem;
    values.push_back(*value);
    at = end + 1;
  }
  if (count != 0 && values.size() != count) return problem;
  return std::optional<std::vector<double>>(values);
}

base::Result<std::optional<std::string>> word_of(const Given& given, const std::string& name,
                                                 const std::vector<std::string>& allowed) {
  const std::optional<std::string> text = given.text(name);
  if (!text) return std::optional<std::string>();
  if (std::find(allowed.begin(), allowed.end(), *text) != allowed.end()) return text;
  const std::optional<std::string> near = base::closest(*text, allowed);
  std::string expected = fmt::format("one of {}", fmt::join(allowed, ", "));
  if (near) expected += fmt::format(" (perhaps {})", *near);
  return base::Problem{name, *text, expected};
}

std::string help_lines(const std::vector<Option>& options) {
  constexpr std::size_t k_column = 28;
  constexpr std::size_t k_width = 100 - k_column;
  std::string text;
  for (const Option& option : options) {
    std::string line = "  " + option.name;
    if (!option.argument.empty()) line += " " + option.argument;
    const bool beside = line.size() + 2 <= k_column;
    if (!beside) {
      text += line + "\n";
      line.clear();
    }
    for (const std::string& part : wrapped(option.help, k_width)) {
      line.resize(k_column, ' ');
      text += line + part + "\n";
      line.clear();
    }
  }
  return text;
}

}  // namespace cli
