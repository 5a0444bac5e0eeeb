// Reading dish files and handing over results, the same way in every command.
#include "cli/command.h"

#include <algorithm>
#include <utility>

#include "base/units.h"
#include "tasks/trace_task.h"

namespace cli {

Option json_option() { return {"--json", "", "Print the result as JSON."}; }
Option csv_option() { return {"--csv", "", "Print the result's table as CSV."}; }
Option out_option() {
  return {"--out", "FILE",
          "Write the result to this file, whole or not at all, and print nothing."};
}

Option sun_x_option() {
  return {"--sun-x-mrad", "X",
          "Tracking error: the sun stands this far toward +x of the axis, -200 "
          "to 200 mrad; default 0."};
}
Option sun_y_option() {
  return {"--sun-y-mrad", "Y", "Tracking error toward +y, -200 to 200 mrad; default 0."};
}

base::Vec2 sun_place_of(const Given& given, Collected& collected) {
  const Limits tilt{-tasks::k_most_tracking_error_mrad, tasks::k_most_tracking_error_mrad};
  const double x_mrad = collected.take(number_of(given, "--sun-x-mrad", tilt)).value_or(0.0);
  const double y_mrad = collected.take(number_of(given, "--sun-y-mrad", tilt)).value_or(0.0);
  return {base::rad_from_mrad(x_mrad), base::rad_from_mrad(y_mrad)};
}

base::Result<files::ReadDish> read_dish_file(const Console& console, const std::string& path) {
  const auto bytes = read_input(console, path, files::k_dish_file_cap_bytes);
  if (!bytes) return bytes.problems();
  return files::read_dish(bytes.value(), path == "-" ? "standard input" : path);
}

base::Result<dish::Dish> open_dish_file(const Console& console, const std::string& path) {
  auto read = read_dish_file(console, path);
  if (!read) return read.problems();
  for (const std::string& note : read.value().notes) remark(console, path + ": " + note);
  return std::move(read).value().dish;
}

int deliver(const Console& console, const Given& given, const std::string& text) {
  if (const auto path = given.text("--out")) {
    const auto written = write_whole(*path, text);
    return written ? k_done : report(console, written.problems());
  }
  const auto written = write_out(console, text);
  if (written) return k_done;
  report(console, written.problems());
  return k_internal_fault;
}

std::string option_name(const std::string& key) {
  std::string name = "--" + key;
  for (char& letter : name) {
    if (letter == '_') letter = '-';
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
  }
  return name;
}

base::Problems as_options(base::Problems problems, const std::vector<Option>& options) {
  for (base::Problem& problem : problems) {
    const std::string name = option_name(problem.place);
    const bool is_one = std::any_of(options.begin(), options.end(),
                                    [&](const Option& option) { return option.name == name; });
    if (is_one) problem.place = name;
  }
  return problems;
}

base::Result<Form> form_of(const Given& given) {
  if (given.has("--json") && given.has("--csv")) {
    return base::Problem{"--json, --csv", "both given", "one of them"};
  }
  if (given.has("--json")) return Form::json;
  return given.has("--csv") ? Form::csv : Form::report;
}

}  // namespace cli
