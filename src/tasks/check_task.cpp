// Gathers errors and doubts, first without rays and then with some.
#include "tasks/check_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "adjusters/preset.h"
#include "optics/canting.h"
#include "optics/trace.h"
#include "tasks/check_rays.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using dish::Finding;
using dish::Severity;

constexpr std::uint64_t k_least_rays = 50'000;

void append(std::vector<Finding>& to, std::vector<Finding> more) {
  to.insert(to.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

std::vector<Finding> as_errors(const base::Problems& problems) {
  std::vector<Finding> findings;
  for (const base::Problem& problem : problems) {
    base::Problem rest = problem;
    rest.place.clear();
    findings.push_back({Severity::error, problem.place, base::to_line(rest)});
  }
  return findings;
}

Json findings_json(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& finding : findings) {
    list.push_back(Json{{"place", finding.place}, {"text", finding.sentence}});
  }
  return list;
}

std::string count(std::size_t number, const std::string& noun) {
  if (number == 0) return "no " + noun + "s";
  return fmt::format("{} {}{}", number, noun, number == 1 ? "" : "s");
}

}  // namespace

base::Result<CheckReply> run(const dish::Dish& dish, const CheckRequest& request,
                             const base::Progress& progress) {
  CheckReply reply{.file = dish.name};
  for (Finding& finding : dish::check(dish)) {
    auto& list = finding.severity == Severity::error ? reply.errors : reply.doubts;
    list.push_back(std::move(finding));
  }
  if (!reply.ok()) return reply;
  // Cant and hold every facet; what cannot be done is an error that rays would stumble over.
  const auto poses = optics::nominal_poses(dish);
  if (!poses) {
    reply.errors = as_errors(poses.problems());
    return reply;
  }
  const auto presets = adjusters::presets_of(dish, poses.value());
  if (!presets) {
    reply.errors = as_errors(presets.problems());
    return reply;
  }
  append(reply.doubts, screw_doubts(dish));
  optics::TraceSettings settings;
  settings.rays = std::max(k_least_rays, request.rays_per_facet * dish.facets.size());
  const auto light = optics::trace(dish, settings, progress);
  if (progress.cancelled()) return light.problems();
  if (light) {
    append(reply.doubts, light_doubts(dish, light.value()));
  } else {
    reply.errors = as_errors(light.problems());
  }
  return reply;
}

CheckReply unreadable(const std::string& file, const base::Problems& problems) {
  return {.file = file, .errors = as_errors(problems)};
}

std::string json_text(const std::vector<CheckReply>& replies) {
  Json files = Json::array();
  for (const CheckReply& reply : replies) {
    Json notes = Json::array();
    for (const std::string& note : reply.notes) notes.push_back(note);
    files.push_back(Json{{"file", reply.file},
                         {"ok", reply.ok()},
                         {"errors", findings_json(reply.errors)},
                         {"doubts", findings_json(reply.doubts)},
                         {"notes", std::move(notes)}});
  }
  return to_text(Json{{"files", std::move(files)}}) + "\n";
}

std::string report_text(const std::vector<CheckReply>& replies) {
  std::string text;
  for (const CheckReply& reply : replies) {
    text += fmt::format("{}: {}, {}\n", reply.file, count(reply.errors.size(), "error"),
                        count(reply.doubts.size(), "doubt"));
    for (const Finding& finding : reply.doubts) text += "  doubt  " + to_line(finding) + "\n";
    for (const std::string& note : reply.notes) text += "  note   " + note + "\n";
  }
  return text;
}

std::string csv_text(const std::vector<CheckReply>& replies) {
  std::vector<std::vector<std::string>> rows;
  for (const CheckReply& reply : replies) {
    for (const Finding& f : reply.errors)
      rows.push_back({reply.file, "error", f.place, f.sentence});
    for (const Finding& f : reply.doubts)
      rows.push_back({reply.file, "doubt", f.place, f.sentence});
    for (const std::string& note : reply.notes) rows.push_back({reply.file, "note", "", note});
  }
  return to_csv({"file", "kind", "place", "text"}, rows);
}

base::Result<std::string> answer_check(const Call& call) {
  CheckRequest request;
  if (const auto rays = call.settings.whole("rays_per_facet", 1, 1'000'000)) {
    request.rays_per_facet = *rays;
  }
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(std::vector<CheckReply>{reply.value()});
}

}  // namespace tasks
