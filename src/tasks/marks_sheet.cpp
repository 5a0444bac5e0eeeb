// The board at true scale, cut into pages.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "tasks/html.h"
#include "tasks/marks_task.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::Vec2;

/// A page in mm. The drawing area is larger than the step from page to page by `k_overlap`, so
/// that neighbours show the same crosses.
struct Sheet {
  const char* name;
  double width;
  double height;
};
constexpr double k_edge = 10.0;     ///< that printers leave white
constexpr double k_below = 24.0;    ///< for the rule and the words
constexpr double k_overlap = 10.0;  ///< of neighbouring drawing areas
constexpr double k_same_mark = 1.0;
constexpr std::size_t k_most_names = 8;

Sheet sheet_of(Paper paper) {
  return paper == Paper::a4 ? Sheet{"A4", 210.0, 297.0} : Sheet{"letter", 215.9, 279.4};
}

double area_width(const Sheet& sheet) { return sheet.width - 2.0 * k_edge; }
double area_height(const Sheet& sheet) { return sheet.height - 2.0 * k_edge - k_below; }
double step_width(const Sheet& sheet) { return area_width(sheet) - k_overlap; }
double step_height(const Sheet& sheet) { return area_height(sheet) - k_overlap; }

/// Marks at one place of the board, in mm, with all their names.
struct Group {
  Vec2 at{0.0, 0.0};
  double ring = 0.0;
  std::vector<std::string> names;
};

std::vector<Group> grouped(const MarksReply& reply) {
  std::vector<Group> groups;
  for (const FacetMark& mark : reply.marks) {
    const Vec2 at = mark.board_m * 1e3;
    const auto found = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
      return glm::distance(group.at, at) < k_same_mark;
    });
    if (found == groups.end()) {
      groups.push_back({at, mark.ring_m * 1e3, {mark.id.text}});
    } else {
      found->names.push_back(mark.id.text);
      found->ring = std::min(found->ring, mark.ring_m * 1e3);
    }
  }
  return groups;
}

std::string names_of(const Group& group, std::size_t of_all) {
  if (group.names.size() == of_all && of_all > 1) return fmt::format("all {} facets", of_all);
  if (group.names.size() <= k_most_names) return fmt::format("{}", fmt::join(group.names, ", "));
  return fmt::format("{} and {} more", group.names.front(), group.names.size() - 1);
}

/// Which pages there are: indices of columns and rows from the board's lower left.
struct Tiling {
  Vec2 first{0.0, 0.0};  ///< lower left corner of page (0, 0)'s step, mm on the board
  int columns = 1;
  int rows = 1;
};

Tiling tiling_of(const std::vector<Group>& groups, const Sheet& sheet) {
  Vec2 least = groups.front().at;
  Vec2 most = least;
  for (const Group& group : groups) {
    least = glm::min(least, group.at - group.ring);
    most = glm::max(most, group.at + group.ring);
  }
  const Vec2 step{step_width(sheet), step_height(sheet)};
  Tiling tiling;
  tiling.columns = std::max(1, static_cast<int>(std::ceil((most.x - least.x) / step.x)));
  tiling.rows = std::max(1, static_cast<int>(std::ceil((most.y - least.y) / step.y)));
  const Vec2 whole{step.x * tiling.columns, step.y * tiling.rows};
  tiling.first = 0.5 * (least + most - whole);
  return tiling;
}

std::string cross(double x, double y, double arm, const char* kind) {
  return fmt::format("<path class=\"{}\" d=\"M{} {}h{}M{} {}v{}\"/>", kind, drawn(x - arm),
                     drawn(y), drawn(2.0 * arm), drawn(x), drawn(y - arm), drawn(2.0 * arm));
}

/// Places of the board on one page: x right, y down, mm.
struct View {
  Vec2 first{0.0, 0.0};  ///< the step's lower left corner on the board
  const Sheet* sheet = nullptr;

  [[nodiscard]] Vec2 on_page(const Vec2& board) const {
    return {0.5 * k_overlap + board.x - first.x,
            area_height(*sheet) - 0.5 * k_overlap - (board.y - first.y)};
  }
  [[nodiscard]] bool shows(const Vec2& board, double reach) const {
    const Vec2 at = on_page(board);
    return at.x > -reach && at.x < area_width(*sheet) + reach && at.y > -reach &&
           at.y < area_height(*sheet) + reach;
  }
};

std::string rule(const Sheet& sheet) {
  const double y = area_height(sheet) + 12.0;
  std::string svg = fmt::format("<path class=\"rule\" d=\"M0 {0}h100", drawn(y));
  for (int mm = 0; mm <= 100; mm += 10) {
    svg += fmt::format("M{} {}v{}", mm, drawn(y), mm % 50 == 0 ? -4 : -2.5);
  }
  svg += "\"/>";
  return svg + fmt::format(
                   "<text x=\"103\" y=\"{}\">100 mm: measure it. Print at 100 %, never fit "
                   "to page.</text>",
                   drawn(y));
}

std::string page(const View& view, const std::vector<Group>& groups, std::size_t of_all,
                 const std::string& caption) {
  const Sheet& sheet = *view.sheet;
  const double width = area_width(sheet);
  const double height = area_height(sheet);
  std::string svg =
      fmt::format("<svg class=\"page\" width=\"{0}mm\" height=\"{1}mm\" viewBox=\"0 0 {0} {1}\">\n",
                  drawn(width), drawn(height + k_below - 1.0));
  for (const double x : {0.5 * k_overlap, width - 0.5 * k_overlap}) {
    for (const double y : {0.5 * k_overlap, height - 0.5 * k_overlap}) {
      svg += cross(x, y, 0.5 * k_overlap, "registration");
    }
  }
  if (view.shows({0.0, 0.0}, 0.0)) {
    const Vec2 middle = view.on_page({0.0, 0.0});
    svg += cross(middle.x, middle.y, 15.0, "middle");
  }
  for (const Group& group : groups) {
    if (!view.shows(group.at, group.ring)) continue;
    const Vec2 at = view.on_page(group.at);
    svg += "\n" + cross(at.x, at.y, 2.0, "mark");
    svg += fmt::format("<circle class=\"ring\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>", drawn(at.x),
                       drawn(at.y), drawn(group.ring));
    svg += fmt::format("<text x=\"{}\" y=\"{}\">{}</text>", drawn(at.x + 1.5), drawn(at.y - 1.2),
                       escaped(names_of(group, of_all)));
  }
  svg += "\n" + rule(sheet);
  return svg + fmt::format("<text x=\"0\" y=\"{}\">{}</text></svg>\n", drawn(height + 19.0),
                           escaped(caption));
}

bool is_empty(const View& view, const std::vector<Group>& groups) {
  return std::none_of(groups.begin(), groups.end(),
                      [&](const Group& group) { return view.shows(group.at, group.ring); });
}

}  // namespace

base::Result<std::string> marks_html(const dish::Dish& dish, const MarksReply& reply) {
  const Sheet sheet = sheet_of(reply.request.paper);
  const std::vector<Group> groups = grouped(reply);
  const Tiling tiling = tiling_of(groups, sheet);
  if (static_cast<double>(tiling.columns) * tiling.rows > k_most_pages) {
    return base::Problem{
        "marks",
        fmt::format("spread over {:.0f} x {:.0f} pages", static_cast<double>(tiling.columns),
                    static_cast<double>(tiling.rows)),
        fmt::format("at most {} pages: a board nearer to where the light meets", k_most_pages)};
  }
  std::string body;
  for (int row = tiling.rows - 1; row >= 0; --row) {
    for (int column = 0; column < tiling.columns; ++column) {
      const View view{tiling.first + Vec2(step_width(sheet) * column, step_height(sheet) * row),
                      &sheet};
      if (is_empty(view, groups)) continue;
      body +=
          page(view, groups, reply.marks.size(),
               fmt::format("{}: marks on the lit side of the board, up is up. Row {} of {} "
                           "from above, column {} of {}.",
                           dish.name, tiling.rows - row, tiling.rows, column + 1, tiling.columns));
    }
  }
  const std::string style = fmt::format(
      "@page{{size:{};margin:{}mm}}\nbody{{margin:0}}\n"
      "svg.page{{display:block;break-after:page;overflow:hidden}}\n"
      "path,circle{{fill:none;stroke:#000;stroke-width:0.2}}\n"
      ".middle{{stroke-dasharray:2 1}}\n.mark{{stroke-width:0.4}}\n.rule{{stroke-width:0.3}}\n"
      "text{{font:3px sans-serif}}\n",
      sheet.name, drawn(k_edge));
  return html_page(dish.name + ": marks on the board", style, body);
}

}  // namespace tasks
