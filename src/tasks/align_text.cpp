// Lays a plan out as JSON, report and CSV.
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>

#include "adjusters/turns.h"
#include "base/units.h"
#include "tasks/align_task.h"
#include "tasks/json.h"
#include "tasks/sighting_settings.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;
using base::mrad_from_rad;

const char* word_of(dish::Side side) { return side == dish::Side::back ? "back" : "front"; }

const char* direction_of(int clicks) {
  if (clicks == 0) return "stay";
  return clicks > 0 ? "clockwise" : "anticlockwise";
}

const char* word_of(align::Instrument instrument) {
  switch (instrument) {
    case align::Instrument::spot:
      return "spot";
    case align::Instrument::inclinometer:
      return "inclinometer";
    case align::Instrument::height_gauge:
      return "height gauge";
  }
  return "";
}

bool is_shift(align::Mode mode) {
  return mode == align::Mode::shift_x || mode == align::Mode::shift_y;
}

Json modes_json(const align::CommonErrors& common, const align::PlanRequest& plan) {
  Json modes = Json::array();
  for (const align::CommonMode& mode : common.modes) {
    const std::string unit = is_shift(mode.mode) ? "mm" : "mm_per_m";
    modes.push_back(Json{{"mode", align::to_text(mode.mode)},
                         {"value_" + unit, number(mm_from_m(mode.value))},
                         {"sigma_" + unit, number(mm_from_m(mode.sigma))},
                         {"at_rim_mm", number(mm_from_m(mode.at_rim_m))},
                         {"significant", mode.significant},
                         {"left_out", plan.left_out[static_cast<std::size_t>(mode.mode)]},
                         {"text", mode.sentence}});
  }
  return modes;
}

/// The errors all facets share. The keys are always there; without enough spots they are null.
Json common_json(const align::Plan& plan, const align::PlanRequest& request) {
  if (!plan.common) {
    Json common;
    for (const char* key :
         {"boresight_mrad", "boresight_sigma_mrad", "focus_mm", "focus_sigma_mm", "clocking_deg",
          "clocking_sigma_deg", "bend_per_m", "bend_sigma_per_m"}) {
      common[key] = nullptr;
    }
    common["modes"] = Json::array();
    common["note"] = plan.common_note;
    return common;
  }
  const align::CommonErrors& found = *plan.common;
  return Json{{"boresight_mrad", numbers(found.boresight_rad, 1000.0)},
              {"boresight_sigma_mrad", numbers(found.boresight_sigma_rad, 1000.0)},
              {"focus_mm", number(mm_from_m(found.focus_m))},
              {"focus_sigma_mm", number(mm_from_m(found.focus_sigma_m))},
              {"clocking_deg", number(base::deg_from_rad(found.clocking_rad))},
              {"clocking_sigma_deg", number(base::deg_from_rad(found.clocking_sigma_rad))},
              {"bend_per_m", numbers(found.bend_per_m)},
              {"bend_sigma_per_m", numbers(found.bend_sigma_per_m)},
              {"modes", modes_json(found, request)},
              {"note", found.note}};
}

double travel_left_m(const adjusters::TravelLeft& left) {
  return std::min(left.toward_sun_m, left.toward_bracket_m);
}

/// Empty when no earlier round taught anything of it.
std::string gain_text(const align::ScrewCorrection& screw) {
  if (!(screw.gain_sigma > 0.0)) return "";
  return fmt::format("moves {:.2f} +- {:.2f} of nominal", screw.gain, screw.gain_sigma);
}

Json screw_json(const align::ScrewCorrection& screw) {
  return Json{{"label", screw.label},
              {"displacement_mm", number(mm_from_m(screw.displacement_m))},
              {"turns", number(screw.turns)},
              {"sigma_turns", number(screw.sigma_turns)},
              {"clicks", screw.clicks},
              {"clicks_per_turn", screw.clicks_per_turn},
              {"direction", direction_of(screw.clicks)},
              {"seen_from", word_of(screw.seen_from)},
              {"text", screw.direction},
              {"finish", screw.finish.text},
              {"now_mm", number(mm_from_m(screw.now_m))},
              {"after_mm", number(mm_from_m(screw.after_m))},
              {"travel_left_mm", number(mm_from_m(travel_left_m(screw.travel_left)))},
              {"travel_toward_sun_mm", number(mm_from_m(screw.travel_left.toward_sun_m))},
              {"travel_toward_bracket_mm", number(mm_from_m(screw.travel_left.toward_bracket_m))},
              {"turns_from_nominal", number(screw.turns_from_nominal)},
              {"gain", number(screw.gain)},
              {"gain_sigma", number(screw.gain_sigma)},
              {"gain_text", gain_text(screw)},
              {"spring", adjusters::to_text(screw.spring_after.state)}};
}

Json facet_json(const align::Correction& facet) {
  Json screws = Json::array();
  for (const align::ScrewCorrection& screw : facet.screws) screws.push_back(screw_json(screw));
  return Json{{"id", facet.id.text},
              {"seen_with", word_of(facet.seen_with)},
              {"tilt_error_mrad", numbers(facet.tilt_error_rad, 1000.0)},
              {"tilt_sigma_mrad", number(mrad_from_rad(facet.tilt_sigma_rad))},
              {"spot_error_mm", numbers(facet.spot_error_m, 1000.0)},
              {"screws", std::move(screws)},
              {"residual_mrad", number(mrad_from_rad(facet.residual_rad))},
              {"residual_spot_mm",
               facet.residual_spot_m ? numbers(*facet.residual_spot_m, 1000.0) : Json(nullptr)},
              {"stop_threshold_mm", number(mm_from_m(facet.stop_threshold_m))},
              {"stop_threshold_mrad", number(mrad_from_rad(facet.stop_threshold_rad))},
              {"unmet", facet.piston.unmet},
              {"verdict", verdict_word(facet.verdict)},
              {"verdict_text", facet.verdict_text}};
}

std::string common_report(const align::Plan& plan, const align::PlanRequest& request) {
  if (!plan.common) return "Errors that all facets share: " + plan.common_note + "\n";
  Table table{
      .columns = {
          {"shared by all facets", false}, {"value"}, {"+-"}, {"unit", false}, {"", false}}};
  for (const align::CommonMode& mode : plan.common->modes) {
    const bool left_out = request.left_out[static_cast<std::size_t>(mode.mode)];
    table.rows.push_back({align::to_text(mode.mode), fixed_signed(mm_from_m(mode.value), 2),
                          fixed(mm_from_m(mode.sigma), 2), is_shift(mode.mode) ? "mm" : "mm per m",
                          left_out ? "left out of the turns" : ""});
  }
  std::string text = to_text(table);
  for (const align::CommonMode& mode : plan.common->modes) {
    if (mode.significant) text += "* " + mode.sentence + "\n";
  }
  if (!plan.common->note.empty()) text += "* " + plan.common->note + "\n";
  return text;
}

/// "2: 1 turn and 4 clicks cw"; the side it is seen from is told once, below the table.
std::string screw_cell(const align::ScrewCorrection& screw, bool sides_differ) {
  if (screw.clicks == 0) return screw.label + ": stay";
  const std::string amount = adjusters::amount_text(std::abs(screw.clicks), screw.clicks_per_turn);
  const std::string way = screw.clicks > 0 ? " cw" : " acw";
  const std::string side =
      sides_differ ? std::string(" from the ") + word_of(screw.seen_from) : std::string();
  return screw.label + ": " + amount + way + side;
}

bool sides_differ(const align::Plan& plan) {
  bool any_back = false;
  bool any_front = false;
  for (const align::Correction& facet : plan.facets) {
    for (const align::ScrewCorrection& screw : facet.screws) {
      (screw.seen_from == dish::Side::back ? any_back : any_front) = true;
    }
  }
  return any_back && any_front;
}

std::string turns_report(const align::Plan& plan) {
  const bool differ = sides_differ(plan);
  Table table{.columns = {{"facet", false},
                          {"spot off mm: right"},
                          {"up"},
                          {"tilt mrad: x"},
                          {"y"},
                          {"screw", false},
                          {"screw", false},
                          {"screw", false},
                          {"left over mrad"},
                          {"verdict", false}}};
  for (const align::Correction& facet : plan.facets) {
    std::vector<std::string> row{facet.id.text, fixed_signed(mm_from_m(facet.spot_error_m.x), 1),
                                 fixed_signed(mm_from_m(facet.spot_error_m.y), 1),
                                 fixed_signed(mrad_from_rad(facet.tilt_error_rad.x), 2),
                                 fixed_signed(mrad_from_rad(facet.tilt_error_rad.y), 2)};
    for (const align::ScrewCorrection& screw : facet.screws) {
      row.push_back(screw_cell(screw, differ));
    }
    row.push_back(fixed(mrad_from_rad(facet.residual_rad), 2));
    row.emplace_back(verdict_word(facet.verdict));
    table.rows.push_back(std::move(row));
  }
  std::string text = to_text(table);
  text += "cw: clockwise, acw: anticlockwise";
  if (!differ && !plan.facets.empty()) {
    text += fmt::format(", seen from the {}", word_of(plan.facets.front().screws[0].seen_from));
  }
  return text + "\n";
}

std::string remarks_report(const AlignReply& reply) {
  std::string text;
  for (const align::Correction& facet : reply.plan.facets) {
    if (facet.verdict == align::Verdict::measure_again ||
        facet.verdict == align::Verdict::out_of_range) {
      text += fmt::format("* facet {}: {}\n", facet.id.text, facet.verdict_text);
    }
    if (!facet.piston.unmet.empty()) {
      text += fmt::format("* facet {}: {}\n", facet.id.text, facet.piston.unmet);
    }
  }
  for (const base::Problem& problem : reply.plan.problems) {
    text += "* left out: " + base::to_line(problem) + "\n";
  }
  return text;
}

}  // namespace

const char* verdict_word(align::Verdict verdict) {
  switch (verdict) {
    case align::Verdict::turn:
      return "turn";
    case align::Verdict::leave:
      return "leave";
    case align::Verdict::measure_again:
      return "measure_again";
    case align::Verdict::out_of_range:
      return "out_of_range";
  }
  return "";
}

std::string json_text(const AlignReply& reply) {
  const align::Plan& plan = reply.plan;
  Json facets = Json::array();
  for (const align::Correction& facet : plan.facets) facets.push_back(facet_json(facet));
  Json unmeasured = Json::array();
  for (const dish::FacetId& id : plan.unmeasured) unmeasured.push_back(id.text);
  Json unusable = Json::array();
  for (const base::Problem& problem : plan.problems) unusable.push_back(base::to_line(problem));
  const Json json{{"source", source_json(reply.request.round.source)},
                  {"spot", reply.request.plan.spot_is_centroid ? "centroid" : "centre"},
                  {"keep", keep_word(reply.request.plan)},
                  {"common", common_json(plan, reply.request.plan)},
                  {"facets", std::move(facets)},
                  {"unmeasured", std::move(unmeasured)},
                  {"unusable", std::move(unusable)},
                  {"rms_tilt_mrad", number(mrad_from_rad(plan.rms_tilt_rad))},
                  {"rms_residual_mrad", number(mrad_from_rad(plan.rms_residual_rad))},
                  {"expected_rms_mrad", number(mrad_from_rad(plan.expected_rms_rad))},
                  {"facets_to_turn", plan.to_turn},
                  {"verdict", plan.verdict},
                  {"caution", plan.caution}};
  return to_text(json) + "\n";
}

std::string report_text(const AlignReply& reply) {
  const align::Plan& plan = reply.plan;
  Lines lines;
  lines.add("tilt errors",
            fmt::format("{} mrad rms over {} facets", fixed(mrad_from_rad(plan.rms_tilt_rad), 2),
                        plan.facets.size()));
  lines.add("after the turns",
            fmt::format("{} mrad rms by rounding alone, {} mrad expected of hands and eyes",
                        fixed(mrad_from_rad(plan.rms_residual_rad), 2),
                        fixed(mrad_from_rad(plan.expected_rms_rad), 2)));
  lines.add("not measured", fmt::format("{} facets", plan.unmeasured.size()));
  return common_report(plan, reply.request.plan) + "\n" + turns_report(plan) +
         remarks_report(reply) + "\n" + to_text(lines) + plan.verdict + "\n" +
         (plan.caution.empty() ? "" : "Caution: " + plan.caution + "\n");
}

std::string csv_text(const AlignReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const align::Correction& facet : reply.plan.facets) {
    for (const align::ScrewCorrection& screw : facet.screws) {
      rows.push_back({facet.id.text, screw.label, exact(screw.turns), exact(screw.sigma_turns),
                      fmt::format("{}", screw.clicks), fmt::format("{}", screw.clicks_per_turn),
                      direction_of(screw.clicks), word_of(screw.seen_from),
                      exact(mm_from_m(screw.displacement_m)),
                      exact(mm_from_m(travel_left_m(screw.travel_left))),
                      verdict_word(facet.verdict)});
    }
  }
  return to_csv({"facet", "screw", "turns", "sigma_turns", "clicks", "clicks_per_turn", "direction",
                 "seen_from", "displacement_mm", "travel_left_mm", "verdict"},
                rows);
}

}  // namespace tasks
