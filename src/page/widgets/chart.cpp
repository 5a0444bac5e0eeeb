// Axes, lines, and the reading under the pointer.
#include "page/widgets/chart.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "page/look/theme.h"
#include "page/widgets/numbers.h"
#include "page/widgets/words.h"

namespace widgets {
namespace {

/// The part of the chart that holds curves, and what its edges mean (in the curves' own units).
struct Field {
  ImVec2 from;
  ImVec2 to;
  double x0 = 0.0;
  double x1 = 1.0;
  double top = 1.0;

  [[nodiscard]] ImVec2 at(double x, double y) const {
    return {from.x + static_cast<float>((x - x0) / (x1 - x0)) * (to.x - from.x),
            to.y - static_cast<float>(y / top) * (to.y - from.y)};
  }
};

Field field_of(const Chart& chart, const ImVec2& corner, float width) {
  Field field{{corner.x, corner.y + 16.0f}, {corner.x + width, corner.y + chart.height - 17.0f}};
  double most = 0.0;
  field.x0 = HUGE_VAL;
  field.x1 = -HUGE_VAL;
  for (const ChartLine& line : chart.lines) {
    for (std::size_t k = 0; k < line.curve.x.size(); ++k) {
      field.x0 = std::min(field.x0, line.curve.x[k]);
      field.x1 = std::max(field.x1, line.curve.x[k]);
      most = std::max(most, line.curve.y[k]);
    }
  }
  field.top = round_above(most * chart.y_per_unit) / chart.y_per_unit;
  return field;
}

double value_at(const optics::Curve& curve, double x) {
  const auto after = std::lower_bound(curve.x.begin(), curve.x.end(), x);
  if (after == curve.x.begin()) return curve.y.front();
  if (after == curve.x.end()) return curve.y.back();
  const auto k = static_cast<std::size_t>(after - curve.x.begin());
  const double share = (x - curve.x[k - 1]) / (curve.x[k] - curve.x[k - 1]);
  return curve.y[k - 1] + share * (curve.y[k] - curve.y[k - 1]);
}

void draw_axes(ImDrawList& draw, const Chart& chart, const Field& field) {
  const look::Theme& theme = look::theme();
  draw.AddLine({field.from.x, field.to.y}, field.to, theme.rule);
  draw.AddLine(field.from, {field.to.x, field.from.y}, look::faded(theme.rule, 0.5f));
  const auto soft = [&](const ImVec2& place, const std::string& text, float shift) {
    const ImVec2 size = text_size(text, look::FontSize::small);
    text_at(draw, {place.x - shift * size.x, place.y}, theme.ink_soft, text, look::FontSize::small);
  };
  soft({field.from.x, field.from.y - 15.0f},
       plain(field.top * chart.y_per_unit) + " " + chart.y_unit, 0.0f);
  // Ends that mirror each other leave a rounding error between them, which would be written out.
  const double sum = field.x0 + field.x1;
  const double middle = std::abs(sum) < 1e-9 * (field.x1 - field.x0) ? 0.0 : 0.5 * sum;
  soft({field.from.x, field.to.y + 2.0f}, plain(field.x0 * chart.x_per_unit), 0.0f);
  soft({field.at(middle, 0.0).x, field.to.y + 2.0f}, plain(middle * chart.x_per_unit), 0.5f);
  soft({field.to.x, field.to.y + 2.0f}, plain(field.x1 * chart.x_per_unit) + " " + chart.x_unit,
       1.0f);
  for (const double mark : {chart.x_mark, -chart.x_mark}) {
    if (chart.x_mark == 0.0 || mark < field.x0 || mark > field.x1) continue;
    const float x = field.at(mark, 0.0).x;
    draw.AddLine({x, field.from.y}, {x, field.to.y}, theme.ink_faint);
  }
}

ImU32 ink_of(const ChartLine& line) {
  return line.is_second ? look::theme().cool : look::theme().copper;
}

void draw_line(ImDrawList& draw, const Field& field, const ChartLine& line) {
  std::vector<ImVec2> points;
  points.reserve(line.curve.x.size());
  for (std::size_t k = 0; k < line.curve.x.size(); ++k) {
    points.push_back(field.at(line.curve.x[k], line.curve.y[k]));
  }
  draw.AddPolyline(points.data(), static_cast<int>(points.size()), ink_of(line), 0, 1.6f);
}

void draw_names(ImDrawList& draw, const Chart& chart, const Field& field) {
  float right = field.to.x;
  for (auto line = chart.lines.rbegin(); line != chart.lines.rend(); ++line) {
    if (line->name.empty()) continue;
    text_ending_at(draw, {right, field.from.y - 15.0f}, ink_of(*line), line->name,
                   look::FontSize::small);
    right -= text_size(line->name, look::FontSize::small).x + 10.0f;
  }
}

void draw_reading(ImDrawList& draw, const Chart& chart, const Field& field) {
  const look::Theme& theme = look::theme();
  const float pointer = std::clamp(ImGui::GetIO().MousePos.x, field.from.x, field.to.x);
  const double share = (pointer - field.from.x) / (field.to.x - field.from.x);
  const double x = field.x0 + share * (field.x1 - field.x0);
  draw.AddLine({pointer, field.from.y}, {pointer, field.to.y}, theme.ink_soft);
  std::string text = decimals(x * chart.x_per_unit, 1) + " " + chart.x_unit;
  for (const ChartLine& line : chart.lines) {
    const double y = value_at(line.curve, x);
    draw.AddCircleFilled(field.at(x, y), 2.8f, ink_of(line));
    text += "   " + (line.name.empty() ? std::string() : line.name + " ") +
            figures(y * chart.y_per_unit, 3) + " " + chart.y_unit;
  }
  const float wide = text_size(text, look::FontSize::small).x;
  const float left = std::clamp(pointer - 0.5f * wide, field.from.x, field.to.x - wide);
  label_at(draw, {left, field.from.y + 2.0f}, theme.ink, text);
}

bool has_points(const Chart& chart) {
  return std::any_of(chart.lines.begin(), chart.lines.end(),
                     [](const ChartLine& line) { return line.curve.x.size() >= 2; });
}

}  // namespace

double round_above(double value) {
  if (!(value > 0.0)) return 1.0;
  const double decade = std::pow(10.0, std::floor(std::log10(value)));
  for (const double step : {1.0, 1.5, 2.0, 3.0, 5.0, 7.0}) {
    if (value <= step * decade * (1.0 + 1e-9)) return step * decade;
  }
  return 10.0 * decade;
}

void chart(const Chart& chart) {
  const ImVec2 corner = ImGui::GetCursorScreenPos();
  const float width = ImGui::GetContentRegionAvail().x;
  ImGui::InvisibleButton(chart.id, {width, chart.height});
  if (!has_points(chart)) return;
  const bool hovered = ImGui::IsItemHovered();
  const Field field = field_of(chart, corner, width);
  ImDrawList& draw = *ImGui::GetWindowDrawList();
  draw_axes(draw, chart, field);
  for (const ChartLine& line : chart.lines) {
    if (line.curve.x.size() >= 2) draw_line(draw, field, line);
  }
  if (hovered) {
    draw_reading(draw, chart, field);
  } else {
    draw_names(draw, chart, field);
  }
  if (*chart.hint != '\0') hint_for_last(chart.hint);
}

}  // namespace widgets
