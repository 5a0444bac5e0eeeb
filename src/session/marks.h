// Which stages of the job carry a mark, why, and where a click on it should lead.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "session/session.h"

namespace session {

struct Mark {
  Stage stage = Stage::lay_out;
  Notice::Kind kind = Notice::Kind::warning;  ///< error: this stage has no answer
  std::vector<std::string> reasons;           ///< one line each, the gravest first
  std::optional<dish::FacetId> facet;         ///< the first facet a reason names
};

/// One mark at most for each stage, in the order of the stages. Drawn from what the dish's own
/// check found, from results that could not be made, and from spots that could not be used.
std::vector<Mark> marks(const Session& session);

/// The mark of one stage.
std::optional<Mark> mark_of(const Session& session, Stage stage);

/// The stage where a place of a finding or problem ("mount M6, screw 2") is set right.
Stage stage_of_place(const std::string& place);

/// The wish behind a click on a mark: the stage, and the facet that is named.
Actions go_to(const Mark& mark);

}  // namespace session
