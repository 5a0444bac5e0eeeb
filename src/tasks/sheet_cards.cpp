// One facet's card: a drawing of its back or front, and words.
#include "tasks/sheet_cards.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "adjusters/turns.h"
#include "align/facet_setup.h"
#include "base/units.h"
#include "dish/outline_facts.h"
#include "tasks/html.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::Vec2;
using base::Vec3;

constexpr double k_half_drawing = 20.0;  ///< mm, room for the facet's outline around its centre
constexpr double k_margin = 7.0;
constexpr double k_screw_radius = 4.2;

const char* name_of(dish::Side side) { return side == dish::Side::back ? "back" : "front"; }

/// A direction of the dish as the person on `side` sees it, up on the page; SVG counts y down.
Vec2 on_page(const Vec3& from_centre, dish::Side side, double scale) {
  const double right = side == dish::Side::back ? -from_centre.x : from_centre.x;
  return {right * scale, -from_centre.y * scale};
}

/// Clicks as they look from `side`.
int clicks_seen(const align::ScrewCorrection& screw, dish::Side side) {
  return screw.seen_from == side ? screw.clicks : -screw.clicks;
}

/// Three quarters of a circle around a screw with a head at its end, the way it is to be turned.
std::string arrow(const Vec2& at, bool clockwise) {
  const double r = k_screw_radius + 1.8;
  const double turned = std::sqrt(0.5) * r;
  const double sign = clockwise ? 1.0 : -1.0;
  // From the lower side of the screw's left (right) around the top to the other side.
  const Vec2 from{at.x - sign * turned, at.y + turned};
  const Vec2 to{at.x + sign * turned, at.y + turned};
  std::string svg =
      fmt::format("<path class=\"arrow\" d=\"M{} {}A{} {} 0 1 {} {} {}\"/>", drawn(from.x),
                  drawn(from.y), drawn(r), drawn(r), clockwise ? 1 : 0, drawn(to.x), drawn(to.y));
  // The head runs on along the circle, toward the bottom middle.
  const Vec2 along = std::sqrt(0.5) * Vec2(-sign, 1.0);
  const Vec2 across{along.y, -along.x};
  const Vec2 tip = to + 2.6 * along;
  const Vec2 one = to + 1.4 * across;
  const Vec2 other = to - 1.4 * across;
  svg += fmt::format("<path class=\"head\" d=\"M{} {}L{} {}L{} {}Z\"/>", drawn(tip.x), drawn(tip.y),
                     drawn(one.x), drawn(one.y), drawn(other.x), drawn(other.y));
  return svg;
}

std::string outline_path(const dish::Dish& dish, const align::FacetSetup& setup, dish::Side side,
                         double scale) {
  const dish::FacetType* type = dish::find_facet_type(dish, setup.facet->type);
  if (type == nullptr) return "";
  const base::Mat3 frame = base::frame_of_normal(setup.nominal.normal, setup.facet->clocking_rad);
  std::string points;
  for (const Vec2& corner : dish::outline_corners(type->outline, 48)) {
    const Vec2 at = on_page(frame * Vec3(corner, 0.0), side, scale);
    points += fmt::format("{},{} ", drawn(at.x), drawn(at.y));
  }
  if (!points.empty()) points.pop_back();
  return fmt::format("<polygon class=\"outline\" points=\"{}\"/>", points);
}

std::string drawing(const dish::Dish& dish, const align::Correction& correction, dish::Side side) {
  const std::size_t index = dish::find_facet(dish, correction.id);
  if (index == dish::k_no_facet) return "";
  const auto setup = align::set_up(dish, dish.facets[index]);
  if (!setup) return "";
  const adjusters::Bracket& bracket = setup.value().bracket;
  std::array<Vec3, 3> seats;
  double reach = 0.0;
  for (std::size_t k = 0; k < 3; ++k) {
    const Vec2 from_foot = bracket.seats_m[k] - bracket.foot_m;
    seats[k] = bracket.dish_from_bracket.axes * Vec3(from_foot, 0.0);
    reach = std::max(reach, std::hypot(seats[k].x, seats[k].y));
  }
  const dish::FacetType* type = dish::find_facet_type(dish, setup.value().facet->type);
  if (type != nullptr) reach = std::max(reach, dish::bounding_radius(type->outline));
  const double scale = reach > 0.0 ? k_half_drawing / reach : 1.0;
  const double half = k_half_drawing + k_margin;
  std::string svg = fmt::format(
      "<svg width=\"{0}mm\" height=\"{0}mm\" viewBox=\"-{1} -{1} {0} {0}\" role=\"img\">",
      drawn(2.0 * half), drawn(half));
  svg += outline_path(dish, setup.value(), side, scale);
  for (std::size_t k = 0; k < 3; ++k) {
    const align::ScrewCorrection& screw = correction.screws[k];
    const Vec2 at = on_page(seats[k], side, scale);
    const int clicks = clicks_seen(screw, side);
    svg += fmt::format("<circle class=\"screw\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>", drawn(at.x),
                       drawn(at.y), drawn(k_screw_radius));
    svg += fmt::format("<text x=\"{}\" y=\"{}\">{}</text>", drawn(at.x), drawn(at.y + 1.4),
                       escaped(screw.label));
    if (clicks != 0) svg += arrow(at, clicks > 0);
  }
  return svg + "</svg>";
}

std::string screw_words(const align::ScrewCorrection& screw, dish::Side side) {
  std::string words = fmt::format(
      "<li><b>screw {}</b>: {}", escaped(screw.label),
      escaped(adjusters::turn_text(screw.clicks, screw.clicks_per_turn, screw.seen_from, side)));
  if (screw.clicks != 0 && screw.seen_from != side) {
    words += fmt::format(" (its head is at the {})", name_of(screw.seen_from));
  }
  if (screw.clicks != 0 && !screw.finish.text.empty()) {
    words += fmt::format("<br><i>{}</i>", escaped(screw.finish.text));
  }
  return words + "</li>";
}

std::string boxes(bool is_to_turn) {
  const char* box = "<span class=\"box\"></span>";
  return fmt::format("<p class=\"boxes\">{0}{1} {0}again {0}skip</p>", box,
                     is_to_turn ? "done" : "seen");
}

}  // namespace

dish::Side side_of_screws(const align::Correction& facet) {
  const auto from_back =
      std::count_if(facet.screws.begin(), facet.screws.end(),
                    [](const auto& screw) { return screw.seen_from == dish::Side::back; });
  return from_back >= 2 ? dish::Side::back : dish::Side::front;
}

std::string sheet_card(const dish::Dish& dish, const align::Correction& facet, dish::Side side,
                       std::size_t number) {
  const bool turns =
      facet.verdict == align::Verdict::turn || facet.verdict == align::Verdict::out_of_range;
  std::string card = fmt::format("<section class=\"card{}\">\n<h2><span>{}.</span> {}</h2>\n",
                                 turns ? "" : " small", number, escaped(facet.id.text));
  if (turns) {
    card += fmt::format("<figure>{}<figcaption>seen from the {}</figcaption></figure>\n",
                        drawing(dish, facet, side), name_of(side));
    card += "<ul>";
    for (const align::ScrewCorrection& screw : facet.screws) card += screw_words(screw, side);
    card += "</ul>\n";
  }
  card += fmt::format("<p class=\"why\">{}</p>\n", escaped(facet.verdict_text));
  return card + boxes(turns) + "\n</section>\n";
}

const char* sheet_card_style() {
  return ".card{border:0.4mm solid #000;padding:2mm;break-inside:avoid;display:flow-root}\n"
         ".card h2{font-size:13pt;margin:0 0 1mm}\n"
         ".card h2 span{font-weight:normal;font-size:9pt}\n"
         ".card figure{float:left;margin:0 3mm 0 0;text-align:center;font-size:8pt}\n"
         ".card ul{margin:0;padding:0;list-style:none;overflow:hidden}\n"
         ".card li{margin:0 0 1.5mm}\n"
         ".why{clear:both;margin:1mm 0;font-size:8.5pt}\n"
         ".boxes{margin:1mm 0 0}\n"
         ".box{display:inline-block;width:4mm;height:4mm;border:0.4mm solid #000;"
         "margin:0 1.5mm 0 4mm;vertical-align:-0.6mm}\n"
         "svg .outline{fill:none;stroke:#000;stroke-width:0.3}\n"
         "svg .screw{fill:#fff;stroke:#000;stroke-width:0.4}\n"
         "svg .arrow{fill:none;stroke:#000;stroke-width:0.8}\n"
         "svg .head{fill:#000}\n"
         "svg text{font:bold 4px sans-serif;text-anchor:middle}\n";
}

}  // namespace tasks
