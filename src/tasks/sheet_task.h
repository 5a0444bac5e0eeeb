// The answer "sheet": the alignment's turns as a page to print and take to the dish.
#pragma once

#include <optional>
#include <string>

#include "align/work_order.h"
#include "base/result.h"
#include "dish/dish.h"
#include "tasks/align_task.h"

namespace tasks {

struct SheetRequest {
  align::WorkOrder order = align::WorkOrder::rows;
  /// Where the person stands; nothing: on the side from which each facet's screws are turned.
  std::optional<dish::Side> side;
};

/// One HTML file without anything from elsewhere, for paper in black and white. One card for each
/// facet of the plan, in working order: its screws drawn as seen from where the person stands, with
/// arrows and turns, the same in words, how each move ends, and boxes to tick. The numbers are
/// those of `reply`, which was made for this dish. Everything from the file is escaped.
std::string sheet_html(const dish::Dish& dish, const AlignReply& reply,
                       const SheetRequest& request);

/// Words of "order" and --order.
std::optional<align::WorkOrder> order_of(const std::string& word);

}  // namespace tasks
