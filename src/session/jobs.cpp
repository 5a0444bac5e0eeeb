// Shares the full trace out, takes the replies in, and drops what nobody waits for any more.
#include "session/jobs.h"

#include <fmt/format.h>

#include <utility>

#include "base/check.h"
#include "files/dish_write.h"
#include "session/carry.h"
#include "session/derive.h"
#include "session/notices.h"
#include "tasks/trace_parts.h"

namespace session {
namespace {

using State = FullTrace::State;

tasks::TraceRequest request_of(const Session& session) {
  return {
      .settings = {.rays = k_full_trace_rays, .tracking_error_rad = session.tracking_error_rad}};
}

/// Tells the page which jobs nobody waits for: those without a reply. Jobs that it has not even
/// taken yet are simply not handed out.
void call_off(Session& session) {
  FullTrace& full = session.full;
  if (full.state != State::running) return;
  auto& waiting = session.outbox.jobs;
  for (std::size_t part = 0; part < full.parts; ++part) {
    if (!full.part_replies[part].empty()) continue;
    const std::uint64_t id = full.first_job + part;
    bool still_here = false;
    for (auto job = waiting.begin(); job != waiting.end() && !still_here;) {
      still_here = job->id == id;
      job = still_here ? waiting.erase(job) : job + 1;
    }
    if (!still_here) session.outbox.cancelled_jobs.push_back(id);
  }
}

/// Which part a job is, when it belongs to the trace that runs and its reply is still wanted.
std::optional<std::size_t> awaited_part(const FullTrace& full, std::uint64_t job) {
  if (full.state != State::running) return {};
  if (job < full.first_job || job - full.first_job >= full.parts) return {};
  const auto part = static_cast<std::size_t>(job - full.first_job);
  if (!full.part_replies[part].empty()) return {};
  return part;
}

void fail(Session& session, base::Problems problems) {
  call_off(session);
  session.full.state = State::failed;
  session.full.problems = std::move(problems);
  session.full.part_replies.clear();
  tell_problems(session, "The full trace failed; the quick figures stay", session.full.problems);
}

void put_together(Session& session) {
  FullTrace& full = session.full;
  auto merged =
      tasks::merge_trace_parts(session.document.dish, request_of(session), full.part_replies);
  if (!merged) {
    fail(session, merged.problems());
    return;
  }
  full.result = std::move(merged).value();
  full.state = State::done;
  full.part_replies.clear();
}

}  // namespace

bool full_trace_is_settled(const Session& session) {
  return session.full.state != State::none && session.full.revision == session.document.revision;
}

void start_full_trace(Session& session) {
  call_off(session);
  session.full = {};
  if (!session.live.value) return;
  FullTrace& full = session.full;
  full.state = State::running;
  full.revision = session.document.revision;
  full.parts = k_trace_parts;
  full.part_replies.resize(k_trace_parts);
  full.first_job = session.next_job;
  session.next_job += k_trace_parts;
  const std::string dish_text = files::write_dish(session.document.dish);
  for (std::size_t part = 0; part < k_trace_parts; ++part)
    session.outbox.jobs.push_back(
        {full.first_job + part,
         tasks::trace_part_request(dish_text, request_of(session), part, k_trace_parts)});
}

void cancel_full_trace(Session& session) {
  if (session.full.state != State::running) return;
  call_off(session);
  session.full.state = State::cancelled;
  session.full.part_replies.clear();
}

void follow_light(Session& session, bool light_changed) {
  FullTrace& full = session.full;
  if (!light_changed) {
    full.revision = session.document.revision;
  } else if (full.state != State::none) {
    call_off(session);
    full = {};
  }
}

void rested(Session& session) {
  derive(session);
  derive_shadows(session);
  derive_expected(session);
  derive_story(session);
  if (session.document.step_open || full_trace_is_settled(session)) return;
  start_full_trace(session);
}

void accept_reply(Session& session, std::uint64_t job, const std::string& reply) {
  if (reply.empty()) {
    accept_failure(session, job, "The worker answered nothing.");
    return;
  }
  if (accept_study_reply(session, job, reply)) {
    derive(session);
    return;
  }
  const auto part = awaited_part(session.full, job);
  if (!part) return;
  FullTrace& full = session.full;
  full.part_replies[*part] = reply;
  ++full.parts_done;
  if (full.parts_done == full.parts) put_together(session);
}

void accept_progress(Session& session, std::uint64_t job, double share) {
  accept_study_progress(session, job, share);
}

void accept_failure(Session& session, std::uint64_t job, const std::string& sentence) {
  if (accept_study_failure(session, job, sentence)) return;
  const auto part = awaited_part(session.full, job);
  if (!part) return;
  fail(session,
       {base::Problem{fmt::format("part {} of {}", *part + 1, session.full.parts), sentence, ""}});
}

void carry_out(Session& session, const act::StartFullTrace& /*wish*/) {
  derive(session);
  if (!session.live.value) {
    tell_problems(session, "There is no light to trace", session.live.problems);
    return;
  }
  start_full_trace(session);
}

void carry_out(Session& session, const act::CancelFullTrace& /*wish*/) {
  cancel_full_trace(session);
}

}  // namespace session
