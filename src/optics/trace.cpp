// The whole trace natively: threads take stretches of chunks until none are left.
#include "optics/trace.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <system_error>
#include <thread>

#include "optics/trace_part.h"

namespace optics {
namespace {

/// Stretches of chunks, handed out one by one.
class Crew {
 public:
  Crew(const Scene& scene, const TraceSettings& settings, const base::Progress& progress)
      : scene_(scene),
        settings_(settings),
        progress_(progress),
        chunks_(plan_trace(scene, settings).chunks()) {
    const auto workers = static_cast<std::uint64_t>(std::clamp(settings.workers, 1, 64));
    // A map's worth of memory for each stretch: few of them, yet enough to keep all busy.
    stretch_ = std::max<std::uint64_t>(1, chunks_ / (workers == 1 ? 1 : 4 * workers));
    parts_.resize((chunks_ + stretch_ - 1) / stretch_);
  }

  void work_all() {
    std::vector<std::thread> others;
    for (int k = 1; k < std::min(settings_.workers, 64); ++k) {
      try {
        others.emplace_back([this] { work({}); });
      } catch (const std::system_error&) {
        break;  // a platform without threads, or out of them: this one does the rest
      }
    }
    work(progress_);
    for (std::thread& other : others) other.join();
  }

  [[nodiscard]] bool is_cancelled() const { return cancelled_.load(); }
  [[nodiscard]] const std::vector<TracePart>& parts() const { return parts_; }

 private:
  /// Only the calling thread reports and asks; all stop when it was told to.
  void work(const base::Progress& progress) {
    base::Progress between;
    between.is_cancelled = [&] {
      if (progress.cancelled()) cancelled_.store(true);
      return cancelled_.load();
    };
    for (;;) {
      const std::uint64_t taken = next_.fetch_add(1);
      if (taken >= parts_.size() || between.cancelled()) return;
      const std::uint64_t first = taken * stretch_;
      const std::uint64_t count = std::min(stretch_, chunks_ - first);
      between.report = [&](double share) {
        progress.tell((static_cast<double>(first) + share * static_cast<double>(count)) /
                      static_cast<double>(chunks_));
      };
      parts_[taken] = trace_part(scene_, settings_, first, count, between);
    }
  }

  const Scene& scene_;
  const TraceSettings& settings_;
  const base::Progress& progress_;
  std::uint64_t chunks_;
  std::uint64_t stretch_ = 1;
  std::vector<TracePart> parts_;
  std::atomic<std::uint64_t> next_{0};
  std::atomic<bool> cancelled_{false};
};

}  // namespace

base::Result<TraceResult> trace(const dish::Dish& dish, const TraceSettings& settings,
                                const base::Progress& progress) {
  if (settings.map_cells < 8 || settings.map_cells > 1024) {
    return base::Problem{"map_cells", fmt::format("{}", settings.map_cells), "8 to 1024"};
  }
  if (settings.only_facet != static_cast<std::size_t>(-1) &&
      settings.only_facet >= dish.facets.size()) {
    return base::Problem{"only_facet", fmt::format("{}", settings.only_facet),
                         "the number of a facet of this dish"};
  }
  const auto scene = make_scene(dish, {.tracking_error_rad = settings.tracking_error_rad});
  if (!scene) return scene.problems();
  return trace_scene(scene.value(), settings, progress);
}

base::Result<TraceResult> trace_scene(const Scene& scene, const TraceSettings& settings,
                                      const base::Progress& progress) {
  Crew crew(scene, settings, progress);
  crew.work_all();
  if (crew.is_cancelled()) return base::Problem{"cancelled", "", "a trace that was let finish"};
  return merge_parts(scene, settings, crew.parts());
}

}  // namespace optics
