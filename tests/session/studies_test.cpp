// Answers that take seconds: asked for, answered by a worker, kept, taken into the dish.
#include <doctest/doctest.h>

#include <algorithm>

#include "session/figures.h"
#include "session/sitting.h"
#include "session/studies.h"
#include "tasks/study_messages.h"
#include "tasks/task.h"

namespace {

using session::Session;
using session::StudyState;
namespace act = session::act;

}  // namespace

TEST_CASE("a budget comes back as the task itself tells it") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartBudget{}});
  CHECK(session.studies.budget.state == StudyState::running);
  session::accept_progress(session, session.studies.budget.job, 0.4);
  CHECK(session.studies.budget.share == 0.4);
  sitting::answer(session);
  REQUIRE(session.studies.budget.state == StudyState::done);
  const optics::Budget& told = session.studies.budget.reply->budget;
  const auto own = tasks::run(session.document.dish, tasks::BudgetRequest{});
  REQUIRE(own.ok());
  const optics::Budget& budget = own.value().budget;
  REQUIRE(told.costs.size() == budget.costs.size());
  CHECK(told.as_is_W == doctest::Approx(budget.as_is_W).epsilon(1e-12));
  CHECK(told.advice == budget.advice);
  for (std::size_t k = 0; k < told.costs.size(); ++k) {
    CHECK(told.costs[k].cause == budget.costs[k].cause);
    CHECK(told.costs[k].is_present == budget.costs[k].is_present);
    CHECK(told.costs[k].gain_W == doctest::Approx(budget.costs[k].gain_W).epsilon(1e-12));
    CHECK(told.costs[k].blur_rad == doctest::Approx(budget.costs[k].blur_rad).epsilon(1e-12));
  }
  CHECK(told.merit.etendue_use == doctest::Approx(budget.merit.etendue_use).epsilon(1e-12));

  SUBCASE("another dish leaves the answer, known to be an earlier one's") {
    CHECK(session::is_of_present_dish(session, session.studies.budget));
    session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
    CHECK(session.studies.budget.reply.has_value());
    CHECK_FALSE(session::is_of_present_dish(session, session.studies.budget));
  }
}

TEST_CASE("a study that is stopped, or asked again, drops what comes late") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartBudget{}});
  const session::Job first = session.outbox.jobs.back();
  session.outbox.jobs.clear();
  session::apply(session, {act::StopStudy{session::StudyKind::budget}});
  CHECK(session.studies.budget.state == StudyState::cancelled);
  REQUIRE(session.outbox.cancelled_jobs.size() == 1);
  CHECK(session.outbox.cancelled_jobs[0] == first.id);
  session::accept_reply(session, first.id, tasks::run_to_text(first.request));
  CHECK_FALSE(session.studies.budget.reply.has_value());
  CHECK(session.notices.empty());
  // One that no worker has taken yet is simply not handed out.
  session::apply(session, {act::StartBudget{}, act::StopStudy{session::StudyKind::budget}});
  CHECK(session.outbox.jobs.empty());
  CHECK(session.outbox.cancelled_jobs.size() == 1);
}

TEST_CASE("a damaged reply and a worker's fault are told, and the dish stays") {
  Session session = sitting::at_nominal();
  const std::string before = sitting::bytes_of(session);
  for (const char* reply : {"{}", "[1, 2", R"({"causes": [3]})", ""}) {
    session::apply(session, {act::StartBudget{}});
    session::accept_reply(session, session.studies.budget.job, reply);
    CHECK(session.studies.budget.state == StudyState::failed);
    CHECK_FALSE(session.notices.empty());
  }
  session::apply(session, {act::StartForms{}});
  session::accept_failure(session, session.studies.forms.job, "It fell over.");
  CHECK(session.studies.forms.state == StudyState::failed);
  CHECK(sitting::says(session, "It fell over."));
  CHECK((sitting::bytes_of(session) == before));
}

TEST_CASE("a choice of forms goes into the dish as one step, and out again") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartForms{2}});
  sitting::answer(session);
  REQUIRE(session.studies.forms.state == StudyState::done);
  const optics::FormChoice& choice = session.studies.forms.reply->choice;
  CHECK(choice.facets.size() == session.document.dish.facets.size());
  const auto flat =
      std::find_if(choice.options.begin(), choice.options.end(),
                   [](const optics::FormOption& o) { return o.kind == optics::FormKind::flat; });
  REQUIRE(flat != choice.options.end());
  const std::string before = sitting::bytes_of(session);
  const std::size_t steps = session.document.undo_steps.size();
  session::apply(session, {act::TakeForms{optics::FormKind::flat}});
  sitting::answer(session);
  CHECK(session.document.undo_steps.size() == steps + 1);
  for (const dish::FacetType& type : session.document.dish.facet_types) {
    CHECK(std::holds_alternative<dish::Flat>(type.surface));
  }
  // The light is then what the choice promised: both are the noise-free evaluation.
  REQUIRE(session.live.value.has_value());
  CHECK(session.live.value->figures.power_receiver_W ==
        doctest::Approx(flat->receiver_W).epsilon(0.002));
  session::apply(session, {act::Undo{}});
  CHECK((sitting::bytes_of(session) == before));
}

TEST_CASE("what a search found is taken when the person says so, and only for the same dish") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::StartSearch{optics::AimSettings{.most_loss = 0.1, .rounds = 1}}});
  sitting::answer(session);
  REQUIRE(session.studies.search.state == StudyState::done);
  const std::string before = sitting::bytes_of(session);
  SUBCASE("taken") {
    session::apply(session, {act::TakeSearch{}});
    CHECK_FALSE((sitting::bytes_of(session) == before));
  }
  SUBCASE("not for another dish") {
    session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
    const std::string changed = sitting::bytes_of(session);
    session::apply(session, {act::TakeSearch{}});
    CHECK((sitting::bytes_of(session) == changed));
    CHECK(sitting::says(session, "changed since"));
  }
}

TEST_CASE("shadows are found at rest, where they are shown, and go with the light") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::GoToStage{session::Stage::mount}});
  session::rested(session);
  CHECK_FALSE(session.shadows.value.has_value());
  session::apply(session, {act::SetTint{session::Tint::shadow}});
  session::rested(session);
  REQUIRE(session.shadows.value.has_value());
  CHECK(session.shadows.value->clear.size() == session.document.dish.facets.size());
  session::apply(session, {act::Change{dish::edit::SetName{"Renamed"}}});
  CHECK(session.shadows.value.has_value());
  session::apply(session, {sitting::displace(sitting::first_facet(session), 0, 2e-4)});
  CHECK_FALSE(session.shadows.value.has_value());
}
