// Makes the sittings.
#include "session/sitting.h"

#include <doctest/doctest.h>

#include "files/dish_write.h"
#include "session/derive.h"
#include "support/demo_dishes.h"
#include "tasks/task.h"

namespace sitting {

session::Session on(dish::Dish dish) {
  session::Session session;
  session.document.dish = std::move(dish);
  session.document.file_name = "tested.dish.json";
  session::derive(session);
  return session;
}

session::Session at_nominal() {
  dish::Dish dish = support::larch_refuge();
  dish.rounds.clear();
  for (dish::Facet& facet : dish.facets) facet.displacement_m = {0.0, 0.0, 0.0};
  return on(std::move(dish));
}

std::string bytes_of(const session::Session& session) {
  return files::write_dish(session.document.dish);
}

session::Action displace(const std::string& facet, int screw, double displacement_m) {
  return session::act::Change{
      dish::edit::SetDisplacement{dish::FacetId{facet}, screw, displacement_m}};
}

bool says(const session::Session& session, const std::string& text) {
  for (const session::Notice& notice : session.notices) {
    if (notice.title.find(text) != std::string::npos) return true;
    for (const std::string& line : notice.lines)
      if (line.find(text) != std::string::npos) return true;
  }
  return false;
}

std::string id_of(const session::Session& session, std::size_t facet) {
  return session.document.dish.facets[facet].id.text;
}

std::string first_facet(const session::Session& session) { return id_of(session, 0); }

void answer(session::Session& session) {
  REQUIRE_FALSE(session.outbox.jobs.empty());
  const session::Job job = session.outbox.jobs.back();
  session.outbox.jobs.pop_back();
  session::accept_reply(session, job.id, tasks::run_to_text(job.request));
}

}  // namespace sitting
