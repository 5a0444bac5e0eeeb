// Keeps the list of notices short enough to be read.
#include "session/notices.h"

#include <fmt/format.h>

#include <algorithm>

namespace session {
namespace {

void shorten(std::vector<std::string>& lines) {
  if (lines.size() <= k_most_notice_lines) return;
  const std::size_t left_out = lines.size() - (k_most_notice_lines - 1);
  lines.resize(k_most_notice_lines - 1);
  lines.push_back(fmt::format("and {} more", left_out));
}

}  // namespace

void tell(Session& session, Notice notice) {
  shorten(notice.lines);
  auto& all = session.notices;
  all.erase(std::remove_if(all.begin(), all.end(),
                           [&](const Notice& old) { return old.title == notice.title; }),
            all.end());
  all.push_back(std::move(notice));
  if (all.size() > k_most_notices) all.erase(all.begin());
}

void tell_problems(Session& session, std::string title, const base::Problems& problems) {
  Notice notice{.kind = Notice::Kind::error, .title = std::move(title)};
  auto& lines = notice.lines;
  for (const base::Problem& problem : problems) {
    std::string line = base::to_line(problem);
    // Two numbers of one pair can be wrong in the same words.
    if (lines.empty() || lines.back() != line) lines.push_back(std::move(line));
  }
  tell(session, std::move(notice));
}

void dismiss(Session& session, std::size_t notice) {
  if (notice >= session.notices.size()) return;
  session.notices.erase(session.notices.begin() + static_cast<std::ptrdiff_t>(notice));
}

}  // namespace session
