// How a sitting begins.
#include "session/session.h"

#include <utility>

#include "base/check.h"
#include "session/demos.h"
#include "session/derive.h"
#include "session/spots.h"

namespace session {

Session start_session() {
  Session session;
  auto read = read_demo(demo_names().front());
  CHECK(read.ok(), "the first demo of the menu is there");
  ReadDemo demo = std::move(read).value();
  session.document.dish = std::move(demo.dish);
  session.document.file_name = std::move(demo.file_name);
  show_round(session, session.document.dish.rounds.size());
  derive(session);
  return session;
}

}  // namespace session
