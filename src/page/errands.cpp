// The only file of the page that talks to both the session and the platform's files and workers.
#include "page/errands.h"

#include <fmt/format.h>

#include <memory>
#include <utility>

#include "page/platform/clock.h"
#include "page/platform/files.h"
#include "page/platform/jobs.h"
#include "page/platform/link.h"
#include "page/platform/storage.h"
#include "page/platform/window.h"
#include "session/intake.h"
#include "session/notices.h"

namespace page {
namespace {

constexpr const char* k_sitting = "sitting";
constexpr double k_rest_s = 0.6;

void take_link(session::Session& session, session::Actions& actions) {
  const auto linked = platform::take_linked_text();
  if (!linked.has_value()) return;
  if (linked->trouble.empty()) {
    actions.push_back(session::act::OpenBytes{"the link", linked->text});
    return;
  }
  session::tell(session, {.kind = session::Notice::Kind::error,
                          .title = "The link could not be opened",
                          .lines = {linked->trouble}});
}

void tell_made_link(session::Session& session) {
  const auto made = platform::take_made_link();
  if (!made.has_value()) return;
  const std::size_t length = made->address.size();
  std::vector<std::string> lines{fmt::format("It holds the whole dish in {} characters.", length)};
  // Messengers cut long addresses; the usual limits begin near two thousand characters.
  if (length > 2000) lines.emplace_back("Some messengers cut links this long: a file is safer.");
  if (!made->copied) lines.push_back(made->address);
  session::tell(session, {.kind = session::Notice::Kind::note,
                          .title = made->copied ? "The link is on the clipboard" : "The link",
                          .lines = std::move(lines)});
}

bool take_job_replies(session::Session& session) {
  bool any = false;
  for (const platform::JobProgress& told : platform::take_progress()) {
    session::accept_progress(session, told.id, told.share);
  }
  for (const platform::JobReply& reply : platform::take_replies()) {
    any = true;
    if (reply.ok) {
      session::accept_reply(session, reply.id, reply.bytes);
    } else {
      session::accept_failure(session, reply.id, reply.bytes);
    }
  }
  return any;
}

void keep(const session::Session& session, Errands& errands) {
  std::string bytes = session::to_storage(session);
  if (bytes == errands.kept_settings) return;
  errands.kept_settings = std::move(bytes);
  platform::store(k_sitting, errands.kept_settings);
}

}  // namespace

void restore(session::Session& session) {
  std::string kept;
  platform::load_all([&](const std::string& key, const std::string& bytes) {
    if (key == k_sitting) kept = bytes;
  });
  if (kept.empty()) return;
  auto restored = session::from_storage(kept);
  if (restored) {
    session = std::move(restored).value();
    return;
  }
  session::tell_problems(session, "What was kept from the last visit could not be read",
                         restored.problems());
}

bool take_arrivals(session::Session& session, session::Actions& actions) {
  for (platform::DroppedFile& file : platform::take_dropped_files()) {
    if (!file.pixels.rgba.empty()) {
      const auto* bytes = reinterpret_cast<const char*>(file.pixels.rgba.data());
      actions.push_back(session::act::OpenPhoto{
          std::move(file.name), file.pixels.width, file.pixels.height,
          std::make_shared<const std::string>(bytes, file.pixels.rgba.size())});
      continue;
    }
    actions.push_back(session::act::OpenBytes{std::move(file.name), std::move(file.bytes)});
  }
  const std::size_t notices = session.notices.size();
  take_link(session, actions);
  tell_made_link(session);
  return take_job_replies(session) || session.notices.size() != notices;
}

void run_errands(session::Outbox& outbox) {
  const session::Outbox errands = std::exchange(outbox, {});
  for (const std::uint64_t job : errands.cancelled_jobs) platform::cancel_job(job);
  for (const session::Job& job : errands.jobs) platform::post_job(job.id, job.request);
  for (const session::Outbox::File& file : errands.saves) {
    platform::save_file(file.name, file.mime, file.bytes);
  }
  if (errands.link.has_value()) platform::make_link(*errands.link);
  if (errands.ask_open)
    platform::open_file_dialog(".json,.csv,.txt,application/json,text/csv,image/*");
}

void keep_and_rest(session::Session& session, Errands& errands, bool changed) {
  const double now_s = platform::steady_s();
  if (changed) {
    errands.still_since_s = now_s;
    errands.rest_told = false;
    platform::request_frames(2);
  }
  if (errands.rest_told) return;
  const double left_s = errands.still_since_s + k_rest_s - now_s;
  if (session.document.step_open || left_s > 0.0) {
    platform::request_frame_after(std::max(left_s, 0.05));
    return;
  }
  errands.rest_told = true;
  keep(session, errands);
  session::rested(session);
  run_errands(session.outbox);
  platform::request_frames(2);
}

}  // namespace page
