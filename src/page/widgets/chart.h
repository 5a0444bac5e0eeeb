// Curves on thin axes: what is drawn says its unit, and the pointer reads it off.
#pragma once

#include <string>
#include <vector>

#include "optics/profiles.h"

namespace widgets {

/// One line of a chart.
struct ChartLine {
  std::string name;  ///< beside the line's end when there are several; empty: not named
  optics::Curve curve;
  bool is_second = false;  ///< in the cool ink instead of copper
};

struct Chart {
  const char* id = "";
  float height = 96.0f;
  std::vector<ChartLine> lines;
  double x_per_unit = 1.0;  ///< shown = x * x_per_unit
  double y_per_unit = 1.0;
  const char* x_unit = "";
  const char* y_unit = "";
  double x_mark = 0.0;  ///< a thin upright rule at +x_mark (and at -x_mark where x is negative)
  const char* hint = "";
};

/// Over the whole width of the current window.
void chart(const Chart& chart);

/// A round number at or above `value`: 1, 1.5, 2, 3, 5, 7 times a power of ten; 1 for none.
double round_above(double value);

}  // namespace widgets
