// A worker answers every request, also one that is no request.
#include <doctest/doctest.h>

#include "tasks/task.h"
#include "worker/answer.h"

TEST_CASE("a worker's reply is the task's reply") {
  const std::string request = R"({"task": "new", "layout": "rings"})";
  const worker::Answer answer = worker::answer(request);
  CHECK(answer.ok);
  CHECK(answer.bytes == tasks::run(request).value());
}

TEST_CASE("bytes that are no request get problems, not a fault") {
  for (const char* request : {"", "{", "[]", "{\"task\": \"fly\"}", "\xFF\xFE"}) {
    CAPTURE(request);
    const worker::Answer answer = worker::answer(request);
    CHECK(answer.ok);
    CHECK(answer.bytes.find("\"problems\"") != std::string::npos);
  }
}
