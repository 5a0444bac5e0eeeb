// One sitting at the tool: the document, what is selected, what was derived from which revision,
// and what the person should hear. Tested headless like the core; the page only shows it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "adjusters/preset.h"
#include "align/nudge.h"
#include "align/plan.h"
#include "align/rounds_story.h"
#include "dish/checks.h"
#include "optics/live.h"
#include "optics/shadows.h"
#include "optics/trace_result.h"
#include "session/actions.h"
#include "session/document.h"
#include "session/photo_work.h"
#include "session/practice_work.h"
#include "session/studies.h"
#include "session/touched.h"
#include "tasks/marks_task.h"

namespace session {

/// A derived result and the revision it was made from. Stale when the document has moved on.
template <class T>
struct Derived {
  std::optional<T> value;
  base::Problems problems;  ///< why there is no value for this revision
  std::uint64_t revision = 0;
};

/// Something to do about a notice, with one tap.
struct Offer {
  std::string words;
  Action wish;
};

/// A message for the person; stays until dismissed or replaced.
struct Notice {
  enum class Kind { note, warning, error } kind = Kind::note;
  std::string title;
  std::vector<std::string> lines;
  std::optional<Offer> offer{};
};

struct Selection {
  std::optional<dish::FacetId> hovered;
  std::optional<dish::FacetId> selected;
  int screw = -1;
};

/// How many rays of each facet can be drawn.
inline constexpr std::array<int, 4> k_picture_rays = {0, 1, 7, 37};

struct Preferences {
  ThemeChoice theme = ThemeChoice::lamp;
  std::optional<dish::Side> side;  ///< asked once; absent until answered
  Tint tint = Tint::plain;
  double exposure_stops = 0.0;
  int picture_rays = 1;  ///< of each facet, one of k_picture_rays
  bool keys_shown = false;
};

/// The full trace running in workers: parts asked for, done, and the merged result so far.
struct FullTrace {
  enum class State { none, running, done, cancelled, failed } state = State::none;
  std::uint64_t revision = 0;
  std::uint64_t first_job = 0;  ///< ids of its jobs: first_job .. first_job + parts - 1
  std::size_t parts = 0;
  std::size_t parts_done = 0;
  std::vector<std::string> part_replies;
  std::optional<optics::TraceResult> result;
  base::Problems problems;
};

/// How one facet stands, as the screen needs it.
struct Stance {
  adjusters::FacePose nominal;
  adjusters::FacePose built;   ///< as its adjusters stand now
  double tilt_rad = 0.0;       ///< between the two normals, >= 0
  double travel_left_m = 0.0;  ///< the least any screw has left either way; negative: beyond
};

/// Work for the page's workers, as bytes that tasks/ understands.
struct Job {
  std::uint64_t id = 0;
  std::string request;
};

/// Things only the page can do, taken by it after each round of actions.
struct Outbox {
  std::vector<Job> jobs;
  std::vector<std::uint64_t> cancelled_jobs;
  struct File {
    std::string name;
    std::string mime;
    std::string bytes;
  };
  std::vector<File> saves;
  std::optional<std::string> link;  ///< dish text to pack into a link
  bool ask_open = false;
};

/// Work on the told turns of a round, one facet at a time (see session/on_site.h).
struct OnSite {
  bool shown = false;
  std::size_t round = 0;             ///< that the marks belong to
  std::vector<dish::FacetId> order;  ///< facets to turn, in working order
  std::size_t place = 0;             ///< of the facet in hand
  std::vector<dish::FacetId> again;  ///< to be looked at again
  std::vector<dish::FacetId> skipped;
  std::optional<dish::FacetId> last_done;
};

struct Session {
  Document document;
  Stage stage = Stage::align;
  Selection selection;
  Preferences preferences;
  base::Vec2 tracking_error_rad{0.0, 0.0};
  align::PlanRequest plan_request;
  std::size_t round = 0;  ///< index into dish.rounds
  OnSite on_site;
  PhotoWork photo_work;
  PracticeWork practice;

  Derived<optics::LiveState> live;
  Derived<std::vector<adjusters::FacetPreset>> presets;
  Derived<std::vector<Stance>> stances;  ///< in the dish's order
  Derived<align::Plan> plan;             ///< empty while there is no round
  Derived<std::vector<dish::Finding>> findings;
  Derived<tasks::MarksReply> marks;       ///< of the shown round; made at rest, where it is shown
  Derived<tasks::MarksReply> expected;    ///< spots of perfect facets in the shown round; at rest
  Derived<align::NudgeVerdict> trial;     ///< of a trial that is over and shown
  Derived<align::RoundsStory> story;      ///< made at rest, where it is shown
  std::vector<dish::Round> story_rounds;  ///< that the story tells; with others it is dropped
  Derived<optics::Shadows> shadows;       ///< made at rest, where they are shown
  FullTrace full;
  Studies studies;

  std::vector<Notice> notices;
  Outbox outbox;
  std::uint64_t next_job = 1;
  std::array<bool, 3> hints_done{};  ///< the first minute's three hints
  Pending pending;                   ///< what derived results must catch up with
};

/// A session on the demo every first visit opens.
Session start_session();

/// Carries out the wishes in order, then brings the derived results up to date. Never throws away
/// the open dish on bad input: problems become a notice.
void apply(Session& session, const Actions& actions);

/// Called when the person has rested: finds shadows where they are shown and asks for the full
/// trace of the present revision.
void rested(Session& session);

/// A worker's answer. Late or cancelled replies are recognised and dropped.
void accept_reply(Session& session, std::uint64_t job, const std::string& reply);

/// How far a worker has come with a job, 0..1.
void accept_progress(Session& session, std::uint64_t job, double share);

/// A worker that broke down over a job, with one sentence about it.
void accept_failure(Session& session, std::uint64_t job, const std::string& sentence);

/// The whole sitting as bytes for the browser's storage, and back. A broken one is a problem and
/// leaves the session as it was.
std::string to_storage(const Session& session);
base::Result<Session> from_storage(const std::string& bytes);

/// Names of the demo dishes, in the order of the menu.
std::vector<std::string> demo_names();

/// Parts that a full trace is cut into, whatever the number of workers, and rays in all of them.
inline constexpr std::size_t k_trace_parts = 8;
inline constexpr std::uint64_t k_full_trace_rays = 2'000'000;

}  // namespace session
