// What every command of the native program shares: its entry in the table of commands, how it
// reads a dish and how it hands over its result.
#pragma once

#include <string>
#include <vector>

#include "base/vec.h"
#include "cli/console.h"
#include "cli/options.h"
#include "files/dish_read.h"

namespace cli {

/// One command. Everything here is printed by its --help.
struct Command {
  const char* name;
  const char* summary;   ///< one line, starts with a verb
  const char* operands;  ///< as in the first line of the help, e.g. "FILE"
  std::size_t least_operands;
  std::size_t most_operands;
  const char* details;  ///< a paragraph: what goes in, what comes out
  const char* example;  ///< words after "facetwright", run from the source tree's top
  std::vector<Option> (*options)();
  int (*carry_out)(const Given&, const Console&);
};

/// All commands, in the order of the help.
const std::vector<Command>& commands();

/// Options that several commands share.
Option json_option();
Option csv_option();
Option out_option();
Option sun_x_option();
Option sun_y_option();

/// Reads the dish file that the operand names ("-": standard input).
base::Result<files::ReadDish> read_dish_file(const Console& console, const std::string& path);

/// The same, with the reader's notes on standard error.
base::Result<dish::Dish> open_dish_file(const Console& console, const std::string& path);

/// Hands over a result: to the file that --out names, whole, or else to standard output.
int deliver(const Console& console, const Given& given, const std::string& text);

/// Tasks name settings by their keys ("focal_length_m"); a person at the command line knows them as
/// options ("--focal-length-m"). Other places stay.
std::string option_name(const std::string& key);
base::Problems as_options(base::Problems problems, const std::vector<Option>& options);

/// The form that --json or --csv asks for. Problem: both are given.
enum class Form { report, json, csv };
base::Result<Form> form_of(const Given& given);

/// Collects what was wrong with several options, so that all of it is told at once.
class Collected {
 public:
  /// The value, or a fallback when the result is a problem, which is kept.
  template <class T>
  T take(base::Result<T> result, T fallback = {}) {
    if (result) return std::move(result).value();
    problems_.insert(problems_.end(), result.problems().begin(), result.problems().end());
    return fallback;
  }
  void add(base::Problem problem) { problems_.push_back(std::move(problem)); }
  void add(const base::Problems& problems) {
    problems_.insert(problems_.end(), problems.begin(), problems.end());
  }
  [[nodiscard]] const base::Problems& problems() const { return problems_; }
  [[nodiscard]] bool any() const { return !problems_.empty(); }

 private:
  base::Problems problems_;
};

/// Where --sun-x-mrad and --sun-y-mrad put the sun, rad from the axis.
base::Vec2 sun_place_of(const Given& given, Collected& collected);

}  // namespace cli
