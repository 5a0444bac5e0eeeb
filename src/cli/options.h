// The command line as a table: commands and their options are data, read by one parser and printed
// by one help text, so that nothing can be accepted without being documented.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace cli {

/// One option. An empty `argument` makes it a switch; otherwise the next word is its value
/// (or what follows "=").
struct Option {
  std::string name;      ///< with its two dashes
  std::string argument;  ///< what the help calls the value, e.g. "N"
  std::string help;      ///< one sentence: meaning, unit, range, default
};

/// What a person gave: options by name, and the words that are no options.
struct Given {
  std::map<std::string, std::string> options;
  std::vector<std::string> operands;

  [[nodiscard]] bool has(const std::string& name) const { return options.count(name) > 0; }
  [[nodiscard]] std::optional<std::string> text(const std::string& name) const;
};

/// A range of allowed numbers, ends included.
struct Limits {
  double least;
  double most;
};

/// Reads the words after the command's name. "--" ends the options; "-" is an operand. Problems:
/// an unknown option (the closest one is named), a missing value, a value given to a switch, an
/// option given twice. Several are reported at once.
base::Result<Given> read_options(const std::vector<std::string>& words,
                                 const std::vector<Option>& options);

/// The number of an option, or nothing when it was not given. Problem: not a number, or outside
/// the limits.
base::Result<std::optional<double>> number_of(const Given& given, const std::string& name,
                                              Limits limits);

/// The same for whole numbers, exact up to 2^64 - 1.
base::Result<std::optional<unsigned long long>> whole_of(const Given& given,
                                                         const std::string& name,
                                                         unsigned long long least,
                                                         unsigned long long most);

/// Comma-separated numbers, exactly `count` of them, or with 0 any number of them.
base::Result<std::optional<std::vector<double>>> numbers_of(const Given& given,
                                                            const std::string& name,
                                                            std::size_t count, Limits limits);

/// One of the allowed words. Problem: another word, with the closest allowed one named.
base::Result<std::optional<std::string>> word_of(const Given& given, const std::string& name,
                                                 const std::vector<std::string>& allowed);

/// A whole text as a decimal number with point; nothing when it is not one or not finite.
std::optional<double> parse_number(std::string_view text);

/// "--name ARG   help" lines, wrapped at 100 columns.
std::string help_lines(const std::vector<Option>& options);

}  // namespace cli
