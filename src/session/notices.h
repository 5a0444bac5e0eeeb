// What the person should hear, in plain words, few at a time.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "session/session.h"

namespace session {

inline constexpr std::size_t k_most_notices = 4;
inline constexpr std::size_t k_most_notice_lines = 8;

/// Adds a notice; one with the same title is replaced, the oldest goes when there are too many.
/// Lines beyond the most are counted instead of shown.
void tell(Session& session, Notice notice);

/// Problems as a notice of the kind error, one line each.
void tell_problems(Session& session, std::string title, const base::Problems& problems);

/// Takes a notice away; a number that is none does nothing.
void dismiss(Session& session, std::size_t notice);

}  // namespace session
