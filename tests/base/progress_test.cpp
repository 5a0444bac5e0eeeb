// A long answer tells how far it is, if anybody listens.
#include <doctest/doctest.h>

#include <vector>

#include "base/progress.h"

TEST_CASE("without listeners nothing happens and nothing is cancelled") {
  const base::Progress progress;
  progress.tell(0.5);
  CHECK_FALSE(progress.cancelled());
}

TEST_CASE("a listener hears every share and can say that nobody wants the answer") {
  std::vector<double> heard;
  bool unwanted = false;
  const base::Progress progress{.report = [&](double done) { heard.push_back(done); },
                                .is_cancelled = [&] { return unwanted; }};
  progress.tell(0.25);
  CHECK_FALSE(progress.cancelled());
  unwanted = true;
  progress.tell(1.0);
  CHECK(progress.cancelled());
  CHECK(heard == std::vector<double>{0.25, 1.0});
}
