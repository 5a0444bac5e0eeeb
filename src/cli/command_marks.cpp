// facetwright marks: where each facet's spot should lie on a board.
#include "base/units.h"
#include "cli/commands.h"
#include "cli/sighting_options.h"
#include "tasks/align_task.h"
#include "tasks/marks_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

struct MarkWishes {
  std::optional<dish::Source> source;
  std::optional<dish::Board> board;
  std::optional<std::string> spot;
  tasks::MarksRequest request;
  Form form = Form::report;
};

MarkWishes read_mark_wishes(const Given& given, Collected& collected) {
  MarkWishes wishes;
  wishes.source = read_source(given, collected);
  wishes.board = read_board(given, collected);
  wishes.spot = collected.take(word_of(given, "--spot", {"centroid", "centre"}));
  wishes.form = collected.take(form_of(given), Form::report);
  tasks::MarksRequest& request = wishes.request;
  request.secondary_in_place = !given.has("--without-secondary");
  if (const auto sigma_mm =
          collected.take(number_of(given, "--spot-sigma-mm", limits_of(Quantity::spot_sigma)))) {
    request.spot_sigma_m = base::m_from_mm(*sigma_mm);
  }
  request.turn_sigma_turns = collected.take(number_of(given, "--turn-sigma-turns", {0.0, 1.0}))
                                 .value_or(request.turn_sigma_turns);
  if (const auto paper = collected.take(word_of(given, "--paper", {"a4", "letter"}))) {
    request.paper = tasks::paper_of(*paper);
  }
  return wishes;
}

}  // namespace

std::vector<Option> marks_options() {
  std::vector<Option> options = sighting_options();
  const std::vector<Option> further{
      {"--round", "NAME", "Light and board of a round that the dish file holds, or last."},
      {"--spot", "WORD",
       "What will be read: centroid (middle of the facet's whole light) or centre (of its "
       "centre's ray); default centroid for the sun, else centre."},
      {"--spot-sigma-mm", "mm",
       "Uncertainty of a spot's reading per axis, for the rings, 0.001 to 5000 mm; default 2."},
      {"--turn-sigma-turns", "turns", "How well a hand turns, 0 to 1 turn; default 1/12."},
      {"--without-secondary", "", "The secondary was taken off."},
      {"--html", "OUT.html", "Write pages that print the marks at true scale, too."},
      {"--paper", "WORD", "Size of those pages: a4 or letter; default a4."},
      json_option(),
      csv_option(),
      out_option(),
  };
  options.insert(options.end(), further.begin(), further.end());
  return options;
}

int carry_out_marks(const Given& given, const Console& console) {
  Collected collected;
  MarkWishes wishes = read_mark_wishes(given, collected);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  tasks::MarksRequest& request = wishes.request;
  if (const auto name = given.text("--round")) {
    const auto round = tasks::round_of_dish(dish.value(), *name);
    if (!round) return report(console, as_options(round.problems(), marks_options()));
    request.round = round.value();
  }
  if (wishes.source) request.round.source = *wishes.source;
  if (wishes.board) request.round.board = wishes.board;
  request.spot_is_centroid = wishes.spot ? *wishes.spot == "centroid"
                                         : tasks::is_centroid_by_default(request.round.source);
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, reply.problems());
  if (const auto path = given.text("--html")) {
    const auto html = tasks::marks_html(dish.value(), reply.value());
    if (!html) return report(console, html.problems());
    const auto written = write_whole(*path, html.value());
    if (!written) return report(console, written.problems());
  }
  switch (wishes.form) {
    case Form::json:
      return deliver(console, given, tasks::json_text(reply.value()));
    case Form::csv:
      return deliver(console, given, tasks::csv_text(reply.value()));
    case Form::report:
      break;
  }
  return deliver(console, given, tasks::report_text(reply.value()));
}

}  // namespace cli
