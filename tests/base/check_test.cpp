// A broken promise ends the program with a sentence; a kept one costs nothing.
#include <doctest/doctest.h>

#include <string>

#include "base/check.h"
#include "base/result.h"

#ifndef __EMSCRIPTEN__
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#endif

TEST_CASE("a check that holds evaluates its condition once and goes on") {
  int asked = 0;
  BASE_CHECK(++asked == 1, "asked once");
  CHECK(asked == 1);
}

#ifndef __EMSCRIPTEN__
namespace {

/// Standard error of a child process that runs `act`, and whether it was ended by a signal.
struct Ending {
  std::string said;
  bool aborted = false;
};

template <class Act>
Ending run_apart(Act act) {
  std::array<int, 2> channel{};
  REQUIRE(pipe(channel.data()) == 0);
  const pid_t child = fork();
  if (child == 0) {
    dup2(channel[1], STDERR_FILENO);
    close(channel[0]);
    close(channel[1]);
    // The test runner's own handler would report a crash of the child as one of the tests.
    signal(SIGABRT, SIG_DFL);
    act();
    _exit(0);
  }
  close(channel[1]);
  Ending ending;
  std::array<char, 256> buffer{};
  for (ssize_t n = 0; (n = read(channel[0], buffer.data(), buffer.size())) > 0;)
    ending.said.append(buffer.data(), static_cast<std::size_t>(n));
  close(channel[0]);
  int status = 0;
  waitpid(child, &status, 0);
  ending.aborted = WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT;
  return ending;
}

}  // namespace

TEST_CASE("a check that fails says its sentence and its place, and ends the program") {
  const Ending ending = run_apart([] { BASE_CHECK(1 + 1 == 3, "sums are right"); });
  CHECK(ending.aborted);
  CHECK(ending.said.find("sums are right") != std::string::npos);
  CHECK(ending.said.find("1 + 1 == 3") != std::string::npos);
  CHECK(ending.said.find("check_test.cpp") != std::string::npos);
}

TEST_CASE("a value is not taken from a result that failed, nor problems from one that is ok") {
  CHECK(run_apart([] {
          const base::Result<int> bad = base::Problem{"a", "b", "c"};
          (void)bad.value();
        }).aborted);
  CHECK(run_apart([] {
          const base::Result<int> good = 1;
          (void)good.problems();
        }).aborted);
  CHECK(run_apart([] { const base::Result<int> nothing = base::Problems{}; }).aborted);
}
#endif
