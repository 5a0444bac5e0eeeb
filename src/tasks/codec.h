// Requests as JSON text: which task, on which dish, with which settings. One function for each
// task; the table in task.cpp names them all.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "tasks/align_task.h"
#include "tasks/settings.h"
#include "tasks/trace_task.h"

namespace tasks {

/// A request that was taken apart: its settings without "task" and "dish", and the dish.
struct Call {
  Settings& settings;
  const dish::Dish& dish;
  const base::Progress& progress;
};

/// Each reads its settings, runs, and answers with the reply's JSON text.
base::Result<std::string> answer_check(const Call& call);
base::Result<std::string> answer_trace(const Call& call);
base::Result<std::string> answer_trace_part(const Call& call);
base::Result<std::string> answer_preset(const Call& call);
base::Result<std::string> answer_align(const Call& call);
base::Result<std::string> answer_identify(const Call& call);
base::Result<std::string> answer_practice(const Call& call);
base::Result<std::string> answer_sheet(const Call& call);
base::Result<std::string> answer_marks(const Call& call);
base::Result<std::string> answer_aims(const Call& call);
base::Result<std::string> answer_rounds(const Call& call);
base::Result<std::string> answer_budget(const Call& call);
base::Result<std::string> answer_form(const Call& call);
base::Result<std::string> answer_optimise(const Call& call);

/// sun_x_mrad and sun_y_mrad, in rad; zero when absent.
base::Vec2 read_sun_place(Settings& settings);

/// The settings that a trace and a part of it share.
TraceRequest read_trace_request(Settings& settings);

/// The settings that an alignment and its printed sheet share.
AlignRequest read_align_request(const Call& call);

/// A new dish: starts without one.
base::Result<std::string> answer_new(Settings& settings);

/// Photographs to spots, and the sheet of a board's marks: neither needs a dish. `pixels` are the
/// bytes behind the request's JSON.
base::Result<std::string> answer_spots(Settings& settings, std::string_view pixels,
                                       const base::Progress& progress);
base::Result<std::string> answer_board(Settings& settings);

/// Photographs of the dish with a screen's fringes in its facets, and the page that shows them.
base::Result<std::string> answer_look_back(const Call& call, std::string_view pixels);
base::Result<std::string> answer_fringes(Settings& settings);

}  // namespace tasks
