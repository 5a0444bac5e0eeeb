// What only a page can do for a session: workers, files, links, storage, and the moments of rest.
#pragma once

#include <cstdint>
#include <string>

#include "session/session.h"

namespace page {

/// What the errands remember between frames.
struct Errands {
  std::uint64_t kept_revision = 0;  ///< of the document, as last stored
  std::string kept_settings;        ///< the rest of what is stored, as last stored
  double still_since_s = 0.0;       ///< when the session last changed
  bool rest_told = true;            ///< the session knows that the person has rested
};

/// What was kept on this machine, if it can be read; a link the page was opened with comes on top.
/// What could not be read becomes a notice.
void restore(session::Session& session);

/// Worker replies, files dropped or chosen, a link that was entered: into the session or as wishes.
/// True when the session changed.
bool take_arrivals(session::Session& session, session::Actions& actions);

/// Sends jobs, gives out files and links, opens the file chooser; empties the outbox.
void run_errands(session::Outbox& outbox);

/// Keeps the sitting and tells the session when the person rests. `changed`: this frame changed it.
void keep_and_rest(session::Session& session, Errands& errands, bool changed);

}  // namespace page
