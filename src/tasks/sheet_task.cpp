// Head, cards and foot of the printed alignment sheet.
#include "tasks/sheet_task.h"

#include <fmt/format.h>

#include <map>

#include "align/evidence.h"
#include "base/units.h"
#include "tasks/codec.h"
#include "tasks/html.h"
#include "tasks/json.h"
#include "tasks/sheet_cards.h"
#include "tasks/table.h"

namespace tasks {
namespace {

constexpr const char* k_style =
    "@page{margin:12mm}\n"
    "body{font:10pt/1.3 sans-serif;color:#000;background:#fff;max-width:190mm;margin:0 auto}\n"
    "h1{font-size:16pt;margin:0 0 1mm}\n"
    "header p,footer p{margin:1mm 0}\n"
    ".cautions{border:0.8mm solid #000;padding:1mm 3mm;margin:2mm 0}\n"
    ".cautions li{margin:0.5mm 0}\n"
    ".cards{display:grid;grid-template-columns:1fr 1fr;gap:3mm;margin:3mm 0;align-items:start}\n"
    ".notes{border:0.3mm solid #000;height:45mm;padding:1mm 2mm;break-inside:avoid}\n";

std::string light_words(const dish::Source& source) {
  constexpr std::array<const char*, 5> k_words{"the sun", "a laser parallel to the axis", "a lamp",
                                               "a laser aimed at each facet",
                                               "a camera that looks back"};
  std::string words = k_words[source.index()];
  if (const base::Vec3* at = dish::point_of(source)) {
    words += fmt::format(" at ({}, {}, {}) mm", fixed(base::mm_from_m(at->x), 0),
                         fixed(base::mm_from_m(at->y), 0), fixed(base::mm_from_m(at->z), 0));
  }
  return words;
}

std::string head(const dish::Dish& dish, const AlignReply& reply) {
  const align::Plan& plan = reply.plan;
  std::string html = fmt::format(
      "<header>\n<h1>{}</h1>\n<p>{}", escaped(dish.name),
      escaped(reply.request.round.name.empty() ? std::string("Alignment round")
                                               : "Alignment round: " + reply.request.round.name));
  if (!reply.request.round.spots.empty()) {
    html += ". Light: " + light_words(reply.request.round.source);
  }
  html += fmt::format(
      ". Date: ______________ Name: ______________</p>\n<p><b>{}</b> {} mrad rms now, {} mrad "
      "expected when done.</p>\n",
      escaped(plan.verdict), fixed(base::mrad_from_rad(plan.rms_tilt_rad), 1),
      fixed(base::mrad_from_rad(plan.expected_rms_rad), 1));
  html += "<ul class=\"cautions\">\n";
  html +=
      "<li>Concentrated sunlight blinds and burns. Cover the facets, or turn the dish from the "
      "sun, before anyone comes near.</li>\n"
      "<li>Never look into a spot, or into a facet toward the light.</li>\n"
      "<li>Glass breaks: gloves and glasses; a firm ladder and a second person.</li>\n"
      "<li>Local rules and licensed practice come first.</li>\n";
  if (!plan.caution.empty()) html += fmt::format("<li>{}</li>\n", escaped(plan.caution));
  return html + "</ul>\n</header>\n";
}

std::string foot(const AlignReply& reply) {
  std::string html = "<footer>\n";
  if (!reply.plan.unmeasured.empty()) {
    html += "<p><b>Not measured:</b>";
    for (const dish::FacetId& id : reply.plan.unmeasured) html += " " + escaped(id.text);
    html += "</p>\n";
  }
  for (const base::Problem& problem : reply.plan.problems) {
    html += fmt::format("<p>Left out: {}</p>\n", escaped(base::to_line(problem)));
  }
  return html + "<div class=\"notes\">Notes</div>\n</footer>\n";
}

}  // namespace

std::optional<align::WorkOrder> order_of(const std::string& word) {
  if (word == "rows") return align::WorkOrder::rows;
  if (word == "rings") return align::WorkOrder::rings;
  return std::nullopt;
}

std::string sheet_html(const dish::Dish& dish, const AlignReply& reply,
                       const SheetRequest& request) {
  std::vector<dish::FacetId> ids;
  std::map<dish::FacetId, const align::Correction*> corrections;
  for (const align::Correction& facet : reply.plan.facets) {
    ids.push_back(facet.id);
    corrections.emplace(facet.id, &facet);
  }
  const dish::Side usual =
      reply.plan.facets.empty() ? dish::Side::back : side_of_screws(reply.plan.facets.front());
  std::string body = head(dish, reply) + "<main class=\"cards\">\n";
  std::size_t number = 0;
  for (const dish::FacetId& id :
       align::work_order(dish, ids, request.side.value_or(usual), request.order)) {
    const align::Correction& facet = *corrections.at(id);
    body += sheet_card(dish, facet, request.side.value_or(side_of_screws(facet)), ++number);
  }
  body += "</main>\n" + foot(reply);
  return html_page(dish.name + ": alignment sheet", std::string(k_style) + sheet_card_style(),
                   body);
}

base::Result<std::string> answer_sheet(const Call& call) {
  const AlignRequest align_request = read_align_request(call);
  SheetRequest request;
  if (const auto word = call.settings.word("order", {"rows", "rings"})) {
    request.order = *order_of(*word);
  }
  if (const auto side = call.settings.word("side", {"back", "front"})) {
    request.side = *side == "back" ? dish::Side::back : dish::Side::front;
  }
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, align_request, call.progress);
  if (!reply) return reply.problems();
  return to_text(Json{{"html", sheet_html(call.dish, reply.value(), request)}}) + "\n";
}

}  // namespace tasks
