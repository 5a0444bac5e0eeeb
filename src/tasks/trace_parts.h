// The full trace shared out among web workers: a request for each part, and the parts' replies put
// together to the same bits as a trace in one piece.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "optics/trace_result.h"
#include "tasks/trace_task.h"

namespace tasks {

inline constexpr std::size_t k_most_parts = 1024;

/// The request for part `part` (0-based) of `parts`, for tasks::run: the settings of `request` and
/// the dish, given as the text of its file.
std::string trace_part_request(std::string_view dish_text, const TraceRequest& request,
                               std::size_t part, std::size_t parts);

/// The figures of the whole trace from the replies to all parts, in any order. `dish` and
/// `request` are those of the requests. Problems: those a reply brings; replies that are damaged,
/// belong to another trace, or do not hold every chunk once.
base::Result<optics::TraceResult> merge_trace_parts(const dish::Dish& dish,
                                                    const TraceRequest& request,
                                                    const std::vector<std::string>& replies);

}  // namespace tasks
