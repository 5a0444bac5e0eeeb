// The row that asks for an answer which takes seconds, and tells how it stands.
#pragma once

#include "session/session.h"

namespace page {

struct StudyRow {
  session::StudyKind kind;
  const char* ask = "";    ///< on the button before there is an answer
  const char* again = "";  ///< and when the dish has changed since
  const char* hint = "";
};

/// Button, progress with a stop, or why it failed. True when the button was pressed.
bool study_row(const session::Session& session, const StudyRow& row, session::Actions& actions);

}  // namespace page
