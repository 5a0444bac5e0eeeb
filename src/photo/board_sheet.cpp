// Draws the tiles of the marks in millimetres.
#include "photo/board_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"

namespace photo {
namespace {

using base::Vec2;

constexpr double k_page_width_mm = 210.0;
constexpr double k_page_height_mm = 297.0;
constexpr double k_margin_mm = 12.0;
constexpr double k_head_mm = 62.0;
constexpr double k_label_mm = 8.0;

/// Millimetres with at most two decimals and no zeros at the end.
std::string mm(double value) { return fmt::format("{}", std::round(value * 100.0) / 100.0); }

std::string circles(const BoardMark& mark, double mark_mm, const Vec2& middle) {
  std::string text;
  bool black = true;
  for (const double share : circles_of(mark.kind)) {
    text += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>", mm(middle.x),
                        mm(middle.y), mm(0.5 * mark_mm * share), black ? "#000" : "#fff");
    black = !black;
  }
  return text;
}

std::string line(const Vec2& a, const Vec2& b, const char* style) {
  return fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" {}/>", mm(a.x), mm(a.y),
                     mm(b.x), mm(b.y), style);
}

std::string words(const Vec2& place, double size, const std::string& text) {
  return fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\">{}</text>", mm(place.x), mm(place.y),
                     mm(size), text);
}

/// One tile, 1.5 marks wide, from its top left corner. The board's edges are whole lines, cuts
/// dashed; a tick marks the middle line of those that stand in an edge's middle.
std::string tile(const BoardMark& mark, double mark_mm, const Vec2& corner) {
  constexpr const char* k_edge = "stroke=\"#000\" stroke-width=\"0.3\"";
  constexpr const char* k_cut = "stroke=\"#888\" stroke-width=\"0.2\" stroke-dasharray=\"1.5 1.5\"";
  const double side = 1.5 * mark_mm;
  const Vec2 middle = corner + Vec2(0.5 * side);
  const Vec2 far = corner + Vec2(side);
  const auto edge = [&](bool is_edge) { return is_edge ? k_edge : k_cut; };
  std::string text = circles(mark, mark_mm, middle);
  text += line(corner, {far.x, corner.y}, edge(mark.place_m.y > 0.0));
  text += line({corner.x, far.y}, far, edge(mark.place_m.y < 0.0));
  text += line(corner, {corner.x, far.y}, edge(mark.place_m.x < 0.0));
  text += line({far.x, corner.y}, far, edge(mark.place_m.x > 0.0));
  if (mark.place_m.x == 0.0) {
    const double y = mark.place_m.y > 0.0 ? corner.y : far.y;
    const double way = mark.place_m.y > 0.0 ? -2.0 : 2.0;
    text += line({middle.x, y}, {middle.x, y + way}, k_edge);
  }
  if (mark.place_m.y == 0.0) {
    const double x = mark.place_m.x < 0.0 ? corner.x : far.x;
    const double way = mark.place_m.x < 0.0 ? -2.0 : 2.0;
    text += line({x, middle.y}, {x + way, middle.y}, k_edge);
  }
  return text + words({corner.x, far.y + 5.0}, 3.5, mark.name);
}

std::string rule() {
  constexpr const char* k_stroke = "stroke=\"#000\" stroke-width=\"0.3\"";
  const double y = k_page_height_mm - k_margin_mm - 6.0;
  std::string text = line({k_margin_mm, y}, {k_margin_mm + 100.0, y}, k_stroke);
  for (int cm = 0; cm <= 10; ++cm) {
    const double x = k_margin_mm + 10.0 * cm;
    text += line({x, y}, {x, y - (cm % 5 == 0 ? 4.0 : 2.5)}, k_stroke);
  }
  return text + words({k_margin_mm, y + 4.5}, 3.5,
                      "This rule must be 100 mm long. If it is not, print again at 100 %, "
                      "without fitting to the page.");
}

std::string heading(const Board& board) {
  const auto marks = marks_of(board);
  const double across = base::mm_from_m(marks[2].place_m.x - marks[0].place_m.x);
  const double down = base::mm_from_m(marks[0].place_m.y - marks[4].place_m.y);
  const double inset = 0.75 * base::mm_from_m(board.mark_m);
  const std::string lines[] = {
      fmt::format("Marks for a target board of {} x {} mm", mm(base::mm_from_m(board.width_m)),
                  mm(base::mm_from_m(board.height_m))),
      "Print on matte white paper. Cut along the dashed lines, lay the whole lines on the board's",
      "edges, the short ticks on the middles of its sides, and glue flat, names the right way up.",
      fmt::format(
          "Check with a tape: middles of corner marks {} mm apart across, {} mm apart down,",
          mm(across), mm(down)),
      fmt::format("{} mm from the edges. Give what you measure if it differs by more than 0.3 mm.",
                  mm(inset)),
      "Use a board that bears heat. Cover the facets before you step near it: concentrated",
      "sunlight blinds, burns and starts fires within a second. Keep water at hand."};
  std::string text;
  double y = k_margin_mm + 5.0;
  for (const std::string& each : lines) {
    text += words({k_margin_mm, y}, y < k_margin_mm + 6.0 ? 5.5 : 3.9, each);
    y += 6.5;
  }
  return text;
}

}  // namespace

std::string board_sheet(const Board& board) {
  const auto marks = marks_of(board);
  const double mark_mm = base::mm_from_m(board.mark_m);
  const double step_x = 1.5 * mark_mm + 6.0;
  const double step_y = 1.5 * mark_mm + k_label_mm;
  std::string pages;
  std::size_t next = 0;
  while (next < marks.size()) {
    pages += fmt::format("<svg width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">",
                         k_page_width_mm, k_page_height_mm);
    if (next == 0) pages += heading(board);
    double y = next == 0 ? k_head_mm : k_margin_mm + 4.0;
    bool any = false;
    while (next < marks.size() && (!any || y + step_y <= k_page_height_mm - k_margin_mm - 12.0)) {
      double x = k_margin_mm + 3.0;
      do {
        pages += tile(marks[next++], mark_mm, {x, y});
        x += step_x;
      } while (next < marks.size() && x + 1.5 * mark_mm <= k_page_width_mm - k_margin_mm);
      y += step_y;
      any = true;
    }
    pages += rule() + "</svg>\n";
  }
  return "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
         "<title>Marks of the target board</title>\n"
         "<style>@page{size:A4;margin:0}body{margin:0;background:#fff}"
         "svg{display:block;break-after:page;font-family:sans-serif}</style></head>\n<body>\n" +
         pages + "</body></html>\n";
}

}  // namespace photo
