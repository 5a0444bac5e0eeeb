// Answers that take seconds: they run in a worker when the person asks for them, tell how far they
// have come, and stay, known to be made for an earlier dish, when the dish moves on.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "base/result.h"
#include "tasks/budget_task.h"
#include "tasks/form_task.h"
#include "tasks/look_back_task.h"
#include "tasks/optimise_task.h"
#include "tasks/spots_task.h"

namespace session {

struct Session;

enum class StudyState { none, running, done, cancelled, failed };

/// What a study is about, without its answer.
struct StudyStanding {
  StudyState state = StudyState::none;
  std::uint64_t job = 0;
  double share = 0.0;                ///< how far it has come, 0..1
  std::uint64_t asked_revision = 0;  ///< of the dish it was asked for
  std::uint64_t reply_revision = 0;  ///< of the dish the kept answer was made for
  base::Problems problems;           ///< why it failed
};

template <class Reply>
struct Study : StudyStanding {
  std::optional<Reply> reply;  ///< of the last one that ended well
};

/// The questions, each with one answer at a time.
enum class StudyKind { budget, forms, search, spots, look_back };

struct Studies {
  Study<tasks::BudgetReply> budget;
  Study<tasks::FormReply> forms;
  Study<tasks::OptimiseReply> search;
  Study<tasks::SpotsReply> spots;  ///< of photographs (see session/photos.h)
  Study<tasks::LookBackReply> look_back;
  /// A choice of forms on its way into the dish.
  Study<tasks::FormReply> taking;
};

const StudyStanding& standing_of(const Session& session, StudyKind kind);

/// True when a study's kept answer belongs to the dish as it is now.
bool is_of_present_dish(const Session& session, const StudyStanding& study);

/// Calls off what the study runs and posts a new request for it.
void start_study(Session& session, StudyStanding& study, std::string request);

/// A worker's answer, failure or progress; true when the job is a study's that runs.
bool accept_study_reply(Session& session, std::uint64_t job, const std::string& reply);
bool accept_study_failure(Session& session, std::uint64_t job, const std::string& sentence);
bool accept_study_progress(Session& session, std::uint64_t job, double share);

}  // namespace session
