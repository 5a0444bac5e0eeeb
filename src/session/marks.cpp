// Sorts findings and problems into the stages where a person can act on them.
#include "session/marks.h"

#include <algorithm>
#include <array>
#include <utility>

#include "session/figures.h"

namespace session {
namespace {

constexpr std::array<Stage, 5> k_stages = {Stage::lay_out, Stage::form, Stage::mount, Stage::light,
                                           Stage::align};

bool begins_with(const std::string& text, const char* beginning) {
  return text.rfind(beginning, 0) == 0;
}

/// "facet A3, screw 2" and "facets/A3/aim_mm" name the facet A3.
std::optional<dish::FacetId> facet_named(const Session& session, const std::string& place) {
  for (const std::string word : {"facet ", "facets/"}) {
    const std::size_t found = place.find(word);
    if (found == std::string::npos) continue;
    const std::size_t begin = found + word.size();
    const std::size_t end = std::min(place.find_first_of(",:/", begin), place.size());
    const dish::FacetId id{place.substr(begin, end - begin)};
    if (dish::find_facet(session.document.dish, id) != dish::k_no_facet) return id;
  }
  return {};
}

/// The marks while they are gathered, one for each stage.
class Gathering {
 public:
  explicit Gathering(const Session& session) : session_(session) {
    for (std::size_t i = 0; i < k_stages.size(); ++i) marks_[i].stage = k_stages[i];
  }

  void add(Stage stage, Notice::Kind kind, const std::string& place, std::string line) {
    Mark& mark = marks_[static_cast<std::size_t>(stage)];
    const auto& known = mark.reasons;
    if (std::find(known.begin(), known.end(), line) != known.end()) return;
    if (kind == Notice::Kind::error) mark.kind = kind;
    mark.reasons.push_back(std::move(line));
    if (!mark.facet) mark.facet = facet_named(session_, place);
  }

  void add(Stage stage, Notice::Kind kind, const base::Problems& problems) {
    for (const base::Problem& problem : problems)
      add(stage, kind, problem.place, base::to_line(problem));
  }

  [[nodiscard]] std::vector<Mark> with_reasons() const {
    std::vector<Mark> kept;
    std::copy_if(marks_.begin(), marks_.end(), std::back_inserter(kept),
                 [](const Mark& mark) { return !mark.reasons.empty(); });
    return kept;
  }

 private:
  const Session& session_;
  std::array<Mark, k_stages.size()> marks_;
};

void add_findings(const Session& session, Gathering& gathering) {
  if (!session.findings.value) return;
  for (const dish::Finding& finding : *session.findings.value) {
    const auto kind =
        finding.severity == dish::Severity::error ? Notice::Kind::error : Notice::Kind::warning;
    gathering.add(stage_of_place(finding.place), kind, finding.place, dish::to_line(finding));
  }
}

}  // namespace

Stage stage_of_place(const std::string& place) {
  if (begins_with(place, "round")) return Stage::align;
  for (const char* word : {"mount", "spring"})
    if (begins_with(place, word)) return Stage::mount;
  if (begins_with(place, "facet") && !begins_with(place, "facet type") &&
      (place.find("screw") != std::string::npos || place.find("bracket") != std::string::npos))
    return Stage::mount;
  return Stage::lay_out;
}

std::vector<Mark> marks(const Session& session) {
  Gathering gathering(session);
  gathering.add(Stage::light, Notice::Kind::error, session.live.problems);
  gathering.add(Stage::mount, Notice::Kind::error, session.presets.problems);
  gathering.add(Stage::align, Notice::Kind::error, session.plan.problems);
  if (session.full.state == FullTrace::State::failed)
    gathering.add(Stage::light, Notice::Kind::warning, session.full.problems);
  if (is_fresh(session, session.plan))
    gathering.add(Stage::align, Notice::Kind::warning, session.plan.value->problems);
  add_findings(session, gathering);
  return gathering.with_reasons();
}

std::optional<Mark> mark_of(const Session& session, Stage stage) {
  for (Mark& mark : marks(session))
    if (mark.stage == stage) return std::move(mark);
  return {};
}

Actions go_to(const Mark& mark) {
  Actions actions{act::GoToStage{mark.stage}};
  if (mark.facet) actions.emplace_back(act::Select{.facet = mark.facet});
  return actions;
}

}  // namespace session
