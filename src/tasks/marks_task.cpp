// Works the marks out and tells them.
#include "tasks/marks_task.h"

#include <fmt/format.h>

#include "align/centroid.h"
#include "align/correct.h"
#include "align/observe.h"
#include "base/units.h"
#include "optics/canting.h"
#include "tasks/align_task.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/sighting_settings.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;

base::Result<FacetMark> mark_of_facet(const dish::Dish& dish, const dish::Facet& facet,
                                      const align::Sighting& sighting,
                                      const MarksRequest& request) {
  const auto nominal = optics::nominal_pose(dish, facet);
  if (!nominal) return nominal.problems();
  const auto mark = align::expected_mark(dish, facet, nominal.value(), sighting);
  if (!mark) return mark.problems();
  FacetMark found{facet.id, mark.value().board_m, 0.0, mark.value().by_secondary};
  // A facet without screws has a mark all the same; its ring is that of reading alone.
  const align::CorrectionRequest correction{.sigmas = {.spot_m = request.spot_sigma_m},
                                            .turn_sigma_turns = request.turn_sigma_turns};
  const auto ring = align::usual_stop_threshold(dish, facet, sighting, correction);
  found.ring_m = ring ? ring.value() : 2.0 * request.spot_sigma_m;
  return found;
}

/// Moves marks from where centre rays land to the middle of each facet's whole light.
base::Problems move_to_centroids(const dish::Dish& dish, const align::Sighting& sighting,
                                 const std::vector<std::size_t>& facets,
                                 std::vector<FacetMark>& marks) {
  std::vector<align::StandingFacet> standing;
  standing.reserve(facets.size());
  for (const std::size_t facet : facets) standing.push_back({.facet = facet});
  const auto offsets = align::centroid_offsets(dish, sighting, standing);
  if (!offsets) return offsets.problems();
  for (std::size_t i = 0; i < marks.size(); ++i) {
    if (offsets.value()[i]) marks[i].board_m += *offsets.value()[i];
  }
  return {};
}

}  // namespace

base::Result<MarksReply> run(const dish::Dish& dish, const MarksRequest& request) {
  MarksReply reply{.marks = {}, .problems = {}, .request = request};
  const align::Sighting sighting =
      align::sighting_of(dish, request.round, request.secondary_in_place);
  std::vector<std::size_t> facets;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    auto mark = mark_of_facet(dish, dish.facets[i], sighting, request);
    if (mark) {
      facets.push_back(i);
      reply.marks.push_back(std::move(mark).value());
    } else {
      for (const base::Problem& problem : mark.problems()) reply.problems.push_back(problem);
    }
  }
  if (reply.marks.empty()) return reply.problems;
  if (request.spot_is_centroid) {
    base::Problems problems = move_to_centroids(dish, sighting, facets, reply.marks);
    if (!problems.empty()) return problems;
  }
  return reply;
}

Paper paper_of(const std::string& word) { return word == "letter" ? Paper::letter : Paper::a4; }

std::string json_text(const MarksReply& reply) {
  Json marks = Json::array();
  for (const FacetMark& mark : reply.marks) {
    marks.push_back(Json{{"facet", mark.id.text},
                         {"right_mm", number(mm_from_m(mark.board_m.x))},
                         {"up_mm", number(mm_from_m(mark.board_m.y))},
                         {"ring_mm", number(mm_from_m(mark.ring_m))},
                         {"by_secondary", mark.by_secondary}});
  }
  Json without = Json::array();
  for (const base::Problem& problem : reply.problems) without.push_back(base::to_line(problem));
  return to_text(Json{{"source", source_json(reply.request.round.source)},
                      {"spot", reply.request.spot_is_centroid ? "centroid" : "centre"},
                      {"marks", std::move(marks)},
                      {"without_mark", std::move(without)}}) +
         "\n";
}

std::string csv_text(const MarksReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const FacetMark& mark : reply.marks) {
    rows.push_back({mark.id.text, exact(mm_from_m(mark.board_m.x)),
                    exact(mm_from_m(mark.board_m.y)), exact(mm_from_m(mark.ring_m))});
  }
  return to_csv({"facet", "right_mm", "up_mm", "ring_mm"}, rows);
}

std::string report_text(const MarksReply& reply) {
  Table table{.columns = {{"facet", false}, {"right mm"}, {"up mm"}, {"ring mm"}}};
  for (const FacetMark& mark : reply.marks) {
    table.rows.push_back({mark.id.text, fixed_signed(mm_from_m(mark.board_m.x), 2),
                          fixed_signed(mm_from_m(mark.board_m.y), 2),
                          fixed(mm_from_m(mark.ring_m), 1)});
  }
  std::string text = to_text(table);
  for (const base::Problem& problem : reply.problems) {
    text += "* no mark: " + base::to_line(problem) + "\n";
  }
  return text +
         "Right and up from the board's centre for someone who faces its lit side. A spot within "
         "its ring is better left alone.\n";
}

base::Result<std::string> answer_marks(const Call& call) {
  Settings& settings = call.settings;
  MarksRequest request;
  if (const auto name = settings.text("round")) {
    const auto round = round_of_dish(call.dish, *name);
    if (!round) settings.add(round.problems());
    if (round) request.round = round.value();
  }
  if (const auto source = read_source(settings)) request.round.source = *source;
  if (const auto board = read_board(settings)) request.round.board = board;
  const auto spot = settings.word("spot", {"centroid", "centre"});
  request.spot_is_centroid =
      spot ? *spot == "centroid" : is_centroid_by_default(request.round.source);
  request.secondary_in_place = !settings.yes_or_no("without_secondary").value_or(false);
  request.spot_sigma_m = number_in(settings, "spot_sigma_mm", dish::ranges::Quantity::spot_sigma)
                             .value_or(request.spot_sigma_m);
  request.turn_sigma_turns =
      settings.number("turn_sigma_turns", 0.0, 1.0).value_or(request.turn_sigma_turns);
  if (const auto paper = settings.word("paper", {"a4", "letter"})) {
    request.paper = paper_of(*paper);
  }
  const bool wants_html = settings.yes_or_no("html").value_or(false);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request);
  if (!reply) return reply.problems();
  if (!wants_html) return json_text(reply.value());
  const auto html = marks_html(call.dish, reply.value());
  if (!html) return html.problems();
  return to_text(Json{{"html", html.value()}}) + "\n";
}

}  // namespace tasks
