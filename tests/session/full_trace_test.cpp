// The full trace as the page's workers would do it: parts out, replies in, late ones dropped.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "session/figures.h"
#include "session/sitting.h"
#include "tasks/task.h"

namespace {

using session::FullTrace;
using session::Session;
using State = session::FullTrace::State;
namespace act = session::act;

Session resting() {
  Session session = sitting::at_nominal();
  session::rested(session);
  return session;
}

}  // namespace

TEST_CASE("a rest asks for all parts once, and another rest for nothing more") {
  Session session = resting();
  REQUIRE(session.outbox.jobs.size() == session::k_trace_parts);
  CHECK(session.full.state == State::running);
  CHECK(session.full.first_job == session.outbox.jobs.front().id);
  for (std::size_t i = 0; i < session.outbox.jobs.size(); ++i) {
    CHECK(session.outbox.jobs[i].id == session.full.first_job + i);
    CHECK(session.outbox.jobs[i].request.find("trace_part") != std::string::npos);
  }
  session::rested(session);
  CHECK(session.outbox.jobs.size() == session::k_trace_parts);
}

TEST_CASE("no trace is asked for in the middle of a drag") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::BeginDrag{"Turn"}});
  session::rested(session);
  CHECK(session.outbox.jobs.empty());
}

TEST_CASE("replies in any order give the same figures, which then take the quick ones' place") {
  Session session = resting();
  std::vector<std::string> replies;
  for (const session::Job& job : session.outbox.jobs)
    replies.push_back(tasks::run_to_text(job.request));
  Session other = session;
  const double quick_W = session::light_of(session)->power_receiver_W;
  for (std::size_t i = 0; i < replies.size(); ++i) {
    CHECK(session.full.parts_done == i);
    CHECK_FALSE(session::shows_full_trace(session));
    session::accept_reply(session, session.full.first_job + i, replies[i]);
  }
  for (std::size_t i = replies.size(); i-- > 0;)
    session::accept_reply(other, other.full.first_job + i, replies[i]);
  REQUIRE(session.full.state == State::done);
  REQUIRE(other.full.state == State::done);
  CHECK(session::shows_full_trace(session));
  const optics::TraceResult& full = *session::light_of(session);
  CHECK(full.rays >= session::k_full_trace_rays);
  CHECK(full.power_receiver_W == other.full.result->power_receiver_W);
  CHECK(full.map.flux_W_m2 == other.full.result->map.flux_W_m2);
  // The quick figures agree with the trace: 1 % leaves room for its noise and their own error.
  CHECK(std::abs(full.power_receiver_W - quick_W) < 0.01 * quick_W);

  SUBCASE("words carry the trace along, another light ends it") {
    session::apply(session, {act::Change{dish::edit::SetName{"Renamed"}}});
    CHECK(session::shows_full_trace(session));
    session::rested(session);
    CHECK(session.full.state == State::done);
    session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
    CHECK_FALSE(session::shows_full_trace(session));
    CHECK(session::light_of(session) == &session.live.value->figures);
    session::rested(session);
    CHECK(session.full.state == State::running);
  }
}

TEST_CASE("a change calls the running trace off, and replies that come late are dropped") {
  Session session = resting();
  const std::uint64_t first = session.full.first_job;
  session.outbox.jobs.clear();  // the page has taken them
  session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
  CHECK(session.full.state == State::none);
  CHECK(session.outbox.cancelled_jobs.size() == session::k_trace_parts);
  session::accept_reply(session, first, "{}");
  CHECK(session.full.parts_done == 0);
  session::rested(session);
  CHECK(session.full.first_job == first + session::k_trace_parts);
  session::accept_reply(session, first + 1, "{}");
  CHECK(session.full.parts_done == 0);
  CHECK(session.notices.empty());
}

TEST_CASE("jobs that were not handed out yet are simply taken back") {
  Session session = resting();
  session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
  CHECK(session.outbox.jobs.empty());
  CHECK(session.outbox.cancelled_jobs.empty());
}

TEST_CASE("the same reply twice and replies to unknown jobs count for nothing") {
  Session session = resting();
  session::accept_reply(session, session.full.first_job, "{}");
  session::accept_reply(session, session.full.first_job, "{}");
  session::accept_reply(session, session.full.first_job + session::k_trace_parts, "{}");
  session::accept_reply(session, 0, "{}");
  CHECK(session.full.parts_done == 1);
}

TEST_CASE("a trace stopped by hand stays stopped until it is asked for") {
  Session session = resting();
  session.outbox.jobs.clear();
  session::accept_reply(session, session.full.first_job + 2, "{}");
  session::apply(session, {act::CancelFullTrace{}});
  CHECK(session.full.state == State::cancelled);
  CHECK(session.outbox.cancelled_jobs.size() == session::k_trace_parts - 1);
  session::rested(session);
  CHECK(session.full.state == State::cancelled);
  session::apply(session, {act::StartFullTrace{}});
  CHECK(session.full.state == State::running);
}

TEST_CASE("damaged replies end in a failed trace with a notice, and the quick figures stay") {
  Session session = resting();
  session.outbox.jobs.clear();
  for (std::size_t i = 0; i < session::k_trace_parts; ++i)
    session::accept_reply(session, session.full.first_job + i, "{\"chunks\": [1, 2");
  CHECK(session.full.state == State::failed);
  CHECK_FALSE(session.full.problems.empty());
  CHECK(sitting::says(session, "The full trace failed"));
  CHECK(session::light_of(session) == &session.live.value->figures);
}

TEST_CASE("a worker that breaks down fails the trace and frees the other workers") {
  Session session = resting();
  session.outbox.jobs.clear();
  session::accept_failure(session, session.full.first_job + 3, "There is not enough memory.");
  CHECK(session.full.state == State::failed);
  CHECK(session.outbox.cancelled_jobs.size() == session::k_trace_parts);
  CHECK(sitting::says(session, "not enough memory"));
  session::rested(session);
  CHECK(session.full.state == State::failed);
}
