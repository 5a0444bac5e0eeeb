// Fixed heights for the lines of text, side columns that grow slowly, the rest for the yard.
#include "page/layout.h"

#include <algorithm>
#include <cmath>

namespace page {
namespace {

constexpr float k_job_line_height = 46.0f;

// A column that is `least` wide on the smallest window and takes `share` of every further pixel.
float column(float width, float least, float share, float most) {
  return std::floor(std::min(least + share * (width - k_least_width), most));
}

}  // namespace

Layout lay_out(float width, float height) {
  width = std::max(width, k_least_width);
  height = std::max(height, k_least_height);
  const float strip_height =
      std::floor(std::clamp(148.0f + 0.06f * (height - k_least_height), 148.0f, 190.0f));
  const float middle = height - k_job_line_height - strip_height;
  const float bench = column(width, 276.0f, 0.075f, 420.0f);
  // The card holds a square plate over about 260 px of figures, so its height bounds it too.
  const float card =
      std::min(column(width, 312.0f, 0.13f, 640.0f), std::max(312.0f, std::floor(middle - 210.0f)));
  // The turns need more room than the bar of watts until the window is wide.
  const float strip = std::floor(std::clamp(0.70f * width, 700.0f, 1200.0f));

  const float top = k_job_line_height;
  const float low = top + middle;
  return {
      .job_line = {0.0f, 0.0f, width, k_job_line_height},
      .bench = {0.0f, top, bench, middle},
      .yard = {bench, top, width - bench - card, middle},
      .card = {width - card, top, card, middle},
      .strip = {0.0f, low, strip, strip_height},
      .watts = {strip, low, width - strip, strip_height},
  };
}

}  // namespace page
