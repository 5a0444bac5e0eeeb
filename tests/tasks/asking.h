// Asking for tasks as a program would, with JSON texts.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "dish/defaults.h"
#include "files/dish_write.h"
#include "tasks/json.h"
#include "tasks/task.h"

namespace asking {

inline tasks::Json request_for(const char* task, const dish::Dish& dish = dish::default_dish()) {
  return {{"task", task}, {"dish", files::write_dish(dish)}};
}

inline std::string reply_text(const tasks::Json& request) {
  const auto reply = tasks::run(tasks::to_dense_text(request));
  if (!reply) FAIL(base::to_text(reply.problems()));
  CHECK(reply.value().back() == '\n');
  return reply.value();
}

inline std::string problem_of(const tasks::Json& request) {
  const auto reply = tasks::run(tasks::to_dense_text(request));
  return reply ? "none" : base::to_text(reply.problems());
}

}  // namespace asking
