// One job a study; a late reply finds its study running another job, or none, and is dropped.
#include "session/studies.h"

#include <algorithm>
#include <type_traits>
#include <utility>

#include "files/dish_write.h"
#include "session/carry.h"
#include "session/notices.h"
#include "session/photos.h"
#include "tasks/spots_messages.h"
#include "tasks/study_messages.h"

namespace session {
namespace {

void call_off(Session& session, StudyStanding& study) {
  if (study.state != StudyState::running) return;
  auto& waiting = session.outbox.jobs;
  const auto here = std::find_if(waiting.begin(), waiting.end(),
                                 [&](const Job& job) { return job.id == study.job; });
  if (here != waiting.end()) {
    waiting.erase(here);
  } else {
    session.outbox.cancelled_jobs.push_back(study.job);
  }
  study.state = StudyState::cancelled;
}

/// `request_of` makes the request from the text of the dish.
template <class MakeRequest>
void start(Session& session, StudyStanding& study, const MakeRequest& request_of) {
  start_study(session, study, request_of(files::write_dish(session.document.dish)));
}

void fail(Session& session, StudyStanding& study, base::Problems problems) {
  study.state = StudyState::failed;
  study.problems = std::move(problems);
  tell_problems(session, "There is no answer", study.problems);
}

template <class Reply>
bool take(Session& session, Study<Reply>& study, base::Result<Reply> reply) {
  if (!reply) {
    fail(session, study, reply.problems());
    return false;
  }
  study.reply = std::move(reply).value();
  study.reply_revision = study.asked_revision;
  study.state = StudyState::done;
  return true;
}

/// Puts an answer's dish in place of the open one, if that is still the one it was made from.
void adopt(Session& session, const StudyStanding& study, const dish::Dish& dish) {
  if (study.reply_revision != session.document.revision) {
    tell(session, {.kind = Notice::Kind::warning,
                   .title = "The dish has changed since",
                   .lines = {"The answer belongs to an earlier dish: ask again."}});
    return;
  }
  take_document(session, replace_dish(session.document, dish, session.document.file_name));
}

StudyStanding* running(Session& session, std::uint64_t job) {
  Studies& all = session.studies;
  for (StudyStanding* study : std::initializer_list<StudyStanding*>{
           &all.budget, &all.forms, &all.search, &all.spots, &all.look_back, &all.taking}) {
    if (study->state == StudyState::running && study->job == job) return study;
  }
  return nullptr;
}

/// Of a session that may be changed, or only read.
template <class AnyStudies, class Standing = std::conditional_t<std::is_const_v<AnyStudies>,
                                                                const StudyStanding, StudyStanding>>
Standing& standing_in(AnyStudies& studies, StudyKind kind) {
  switch (kind) {
    case StudyKind::budget:
      return studies.budget;
    case StudyKind::forms:
      return studies.forms;
    case StudyKind::spots:
      return studies.spots;
    case StudyKind::look_back:
      return studies.look_back;
    case StudyKind::search:
      break;
  }
  return studies.search;
}

}  // namespace

void start_study(Session& session, StudyStanding& study, std::string request) {
  call_off(session, study);
  study.state = StudyState::running;
  study.share = 0.0;
  study.problems.clear();
  study.asked_revision = session.document.revision;
  study.job = session.next_job++;
  session.outbox.jobs.push_back({study.job, std::move(request)});
}

const StudyStanding& standing_of(const Session& session, StudyKind kind) {
  return standing_in(session.studies, kind);
}

bool is_of_present_dish(const Session& session, const StudyStanding& study) {
  return study.reply_revision == session.document.revision;
}

bool accept_study_reply(Session& session, std::uint64_t job, const std::string& reply) {
  StudyStanding* study = running(session, job);
  if (study == nullptr) return false;
  Studies& all = session.studies;
  if (study == &all.budget) {
    take(session, all.budget, tasks::read_budget_reply(reply));
  } else if (study == &all.forms) {
    take(session, all.forms, tasks::read_form_reply(reply));
  } else if (study == &all.search) {
    take(session, all.search, tasks::read_optimise_reply(reply));
  } else if (study == &all.spots) {
    if (take(session, all.spots, tasks::read_spots_reply(reply))) identify_spots(session);
  } else if (study == &all.look_back) {
    take(session, all.look_back, tasks::read_look_back_reply(reply));
  } else if (take(session, all.taking, tasks::read_form_reply(reply)) && all.taking.reply->dish) {
    adopt(session, all.taking, *all.taking.reply->dish);
  }
  return true;
}

bool accept_study_failure(Session& session, std::uint64_t job, const std::string& sentence) {
  StudyStanding* study = running(session, job);
  if (study == nullptr) return false;
  fail(session, *study, {base::Problem{"the worker", sentence, ""}});
  return true;
}

bool accept_study_progress(Session& session, std::uint64_t job, double share) {
  StudyStanding* study = running(session, job);
  if (study == nullptr) return false;
  study->share = std::clamp(share, 0.0, 1.0);
  return true;
}

void carry_out(Session& session, const act::StartBudget& /*wish*/) {
  start(session, session.studies.budget, [&](const std::string& dish) {
    tasks::BudgetRequest request;
    request.settings.tracking_error_rad = session.tracking_error_rad;
    return tasks::budget_request(dish, request);
  });
}

void carry_out(Session& session, const act::StartForms& wish) {
  start(session, session.studies.forms, [&](const std::string& dish) {
    return tasks::form_request(dish, {.settings = {.most_groups = wish.most_groups}});
  });
}

void carry_out(Session& session, const act::TakeForms& wish) {
  start(session, session.studies.taking, [&](const std::string& dish) {
    return tasks::form_request(dish, {.settings = {.most_groups = std::max(wish.moulds, 2)},
                                      .take = wish.kind,
                                      .take_groups = wish.moulds});
  });
}

void carry_out(Session& session, const act::StartSearch& wish) {
  start(session, session.studies.search,
        [&](const std::string& dish) { return tasks::optimise_request(dish, {wish.wish}); });
}

void carry_out(Session& session, const act::TakeSearch& /*wish*/) {
  const auto& search = session.studies.search;
  if (search.reply) adopt(session, search, search.reply->dish());
}

void carry_out(Session& session, const act::StopStudy& wish) {
  call_off(session, standing_in(session.studies, wish.kind));
}

}  // namespace session
