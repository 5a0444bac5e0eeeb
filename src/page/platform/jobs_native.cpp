// The native page's workers: threads that answer by the same tasks.
#include "page/platform/jobs.h"

#include <algorithm>
#include <atomic>
#include <condition_variable>
#include <deque>
#include <map>
#include <memory>
#include <mutex>
#include <thread>
#include <utility>

#include "page/platform/pacing.h"
#include "page/platform/window.h"
#include "tasks/task.h"

namespace platform {
namespace {

struct Job {
  std::uint64_t id = 0;
  std::string request;
  std::shared_ptr<std::atomic<bool>> cancelled = std::make_shared<std::atomic<bool>>(false);
};

class Pool {
 public:
  Pool() {
    const unsigned cores = std::thread::hardware_concurrency();
    for (unsigned count = 0; count < std::max(cores, 2U) - 1; ++count)
      threads_.emplace_back([this] { work(); });
  }

  ~Pool() {
    {
      const std::lock_guard lock(mutex_);
      ending_ = true;
      for (auto& [id, flag] : open_) *flag = true;
    }
    changed_.notify_all();
    for (std::thread& thread : threads_) thread.join();
  }

  Pool(const Pool&) = delete;
  Pool& operator=(const Pool&) = delete;

  void post(std::uint64_t id, std::string request) {
    const std::lock_guard lock(mutex_);
    waiting_.push_back({.id = id, .request = std::move(request)});
    open_[id] = waiting_.back().cancelled;
    changed_.notify_one();
  }

  void cancel(std::uint64_t id) {
    const std::lock_guard lock(mutex_);
    const auto found = open_.find(id);
    if (found == open_.end()) return;
    *found->second = true;
    open_.erase(found);
    std::erase_if(waiting_, [id](const Job& job) { return job.id == id; });
  }

  std::vector<JobReply> take() {
    const std::lock_guard lock(mutex_);
    return std::exchange(replies_, {});
  }

  std::vector<JobProgress> take_shares() {
    const std::lock_guard lock(mutex_);
    std::vector<JobProgress> shares;
    for (const auto& [id, share] : std::exchange(shares_, {})) shares.push_back({id, share});
    return shares;
  }

  int size() const { return static_cast<int>(threads_.size()); }

  int open() {
    const std::lock_guard lock(mutex_);
    return static_cast<int>(open_.size());
  }

 private:
  void work() {
    for (;;) {
      Job job;
      {
        std::unique_lock lock(mutex_);
        changed_.wait(lock, [this] { return ending_ || !waiting_.empty(); });
        if (ending_) return;
        job = std::move(waiting_.front());
        waiting_.pop_front();
      }
      answer(job);
    }
  }

  void answer(const Job& job) {
    JobReply reply{.id = job.id, .ok = true};
    try {
      reply.bytes = tasks::run_to_text(
          job.request, {.report = [this, id = job.id](double share) { tell(id, share); },
                        .is_cancelled = [flag = job.cancelled] { return flag->load(); }});
    } catch (const std::exception& fault) {
      reply.ok = false;
      reply.bytes = fault.what();
    }
    const std::lock_guard lock(mutex_);
    if (*job.cancelled) return;
    open_.erase(job.id);
    replies_.push_back(std::move(reply));
    // An empty event ends the window's waiting; the loop then draws.
    wake();
  }

  void tell(std::uint64_t id, double share) {
    const std::lock_guard lock(mutex_);
    shares_[id] = share;
    wake();
  }

  std::mutex mutex_;
  std::condition_variable changed_;
  std::deque<Job> waiting_;
  std::map<std::uint64_t, std::shared_ptr<std::atomic<bool>>> open_;
  std::vector<JobReply> replies_;
  std::map<std::uint64_t, double> shares_;
  bool ending_ = false;
  std::vector<std::thread> threads_;
};

Pool& pool() {
  static Pool kept;
  return kept;
}

}  // namespace

void post_job(std::uint64_t id, std::string bytes) { pool().post(id, std::move(bytes)); }

std::vector<JobReply> take_replies() { return pool().take(); }

std::vector<JobProgress> take_progress() { return pool().take_shares(); }

void cancel_job(std::uint64_t id) { pool().cancel(id); }

int worker_count() { return pool().size(); }

int jobs_open() { return pool().open(); }

}  // namespace platform
