// The table of tasks, and the door that JSON requests come through.
#include "tasks/task.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "files/dish_read.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/settings.h"

namespace tasks {
namespace {

struct DishTask {
  const char* name;
  base::Result<std::string> (*answer)(const Call&);
};

constexpr std::array<DishTask, 14> k_dish_tasks{{{"check", answer_check},
                                                 {"trace", answer_trace},
                                                 {"trace_part", answer_trace_part},
                                                 {"preset", answer_preset},
                                                 {"align", answer_align},
                                                 {"rounds", answer_rounds},
                                                 {"identify", answer_identify},
                                                 {"practice", answer_practice},
                                                 {"sheet", answer_sheet},
                                                 {"marks", answer_marks},
                                                 {"aims", answer_aims},
                                                 {"budget", answer_budget},
                                                 {"form", answer_form},
                                                 {"optimise", answer_optimise}}};

std::vector<std::string> task_names() {
  std::vector<std::string> names;
  for (const DishTask& task : k_dish_tasks) names.emplace_back(task.name);
  for (const char* name : {"new", "spots", "board", "look_back", "fringes"})
    names.emplace_back(name);
  return names;
}

/// The dish of a request, given as the object of a dish file or as that file's text.
base::Result<dish::Dish> dish_of(Settings& settings, std::string_view request) {
  const Json* given = settings.raw("dish");
  if (given == nullptr) return base::Problem{"request.dish", "missing", "a dish file's content"};
  const std::string text =
      given->is_string() ? given->get<std::string>() : std::string(member_text(request, "dish"));
  auto read = files::read_dish(text, "request.dish");
  if (!read) return read.problems();
  return std::move(read).value().dish;
}

}  // namespace

base::Result<std::string> run(std::string_view request, const base::Progress& progress) {
  // JSON holds no zero byte; what comes behind one is a photo's pixels.
  const std::size_t zero = std::min(request.find('\0'), request.size());
  const std::string_view pixels = request.substr(std::min(zero + 1, request.size()));
  request = request.substr(0, zero);
  const auto parsed = parse_json(request, "request");
  if (!parsed) return parsed.problems();
  Settings settings(parsed.value(), "request");
  const std::optional<std::string> name = settings.word("task", task_names());
  if (!name) {
    const base::Problem missing{"request.task", "missing",
                                fmt::format("one of {}", fmt::join(task_names(), ", "))};
    return settings.problems().empty() ? base::Problems{missing} : settings.problems();
  }
  if (*name == "spots") return answer_spots(settings, pixels, progress);
  const bool looks_back = *name == "look_back";
  if (!pixels.empty() && !looks_back) {
    return base::Problem{"request", "bytes behind the JSON", "none for this task"};
  }
  if (*name == "new") return answer_new(settings);
  if (*name == "board") return answer_board(settings);
  if (*name == "fringes") return answer_fringes(settings);
  const auto dish = dish_of(settings, request);
  if (!dish) return dish.problems();
  if (looks_back) return answer_look_back({settings, dish.value(), progress}, pixels);
  for (const DishTask& task : k_dish_tasks) {
    if (*name == task.name) return task.answer({settings, dish.value(), progress});
  }
  CHECK(false, "every name of the table is carried out");
  return std::string();
}

std::string run_to_text(std::string_view request, const base::Progress& progress) {
  const auto reply = run(request, progress);
  if (reply) return reply.value();
  Json list = Json::array();
  for (const base::Problem& problem : reply.problems()) {
    list.push_back(
        Json{{"place", problem.place}, {"value", problem.value}, {"expected", problem.expected}});
  }
  return to_text(Json{{"problems", std::move(list)}}) + "\n";
}

}  // namespace tasks
