// The open dish with its history: every change is an edit, undo is a named snapshot.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace session {

/// A dish as it was before a step, and what the step was called.
struct Snapshot {
  std::string title;
  dish::Dish dish;
  std::size_t bytes = 0;  ///< estimate, for the history's budget
};

struct Document {
  dish::Dish dish;
  std::uint64_t revision = 1;        ///< grows with every change; derived results carry it
  std::uint64_t saved_revision = 1;  ///< as last written to a file
  std::string file_name;
  std::vector<Snapshot> undo_steps;  ///< oldest first
  std::vector<Snapshot> redo_steps;  ///< next redo last
  bool step_open = false;            ///< a drag is under way: edits fold into the last step
};

inline constexpr std::size_t k_history_budget_bytes = 64u << 20u;

/// Applies an edit as one undo step, or folds it into the open step. On problems nothing changes.
base::Result<Document> edit(Document document, const dish::Edit& edit);

/// A drag: between open and close all edits are one step; abandon restores the dish before it.
Document open_step(Document document, std::string title);
Document close_step(Document document);
Document abandon_step(Document document);

Document undo(Document document);
Document redo(Document document);

/// A dish from a file or a demo: one undo step, so that nothing open is ever lost.
Document replace_dish(Document document, dish::Dish dish, std::string file_name);

}  // namespace session
