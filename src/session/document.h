// The open dish with its history: every change is an edit, undo is a named snapshot.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace session {

/// A dish as it was before a step, and what the step was called. The dish is shared, so that
/// copying a document does not copy its history.
struct Snapshot {
  std::string title;
  std::shared_ptr<const dish::Dish> dish;
  std::string file_name;
  std::uint64_t revision = 0;  ///< the document's revision while this dish was open
  std::size_t bytes = 0;       ///< estimate, for the history's budget
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

/// True when the dish differs from what was last read from or written to a file.
inline bool is_unsaved(const Document& document) {
  return document.revision != document.saved_revision;
}

/// Applies an edit as one undo step, or folds it into the open step. On problems nothing changes.
base::Result<Document> edit(Document document, const dish::Edit& edit);

/// The same for several edits that are one step with a title of its own; all of them or none.
base::Result<Document> edit_all(Document document, const std::vector<dish::Edit>& edits,
                                std::string title);

/// A drag: between open and close all edits are one step; abandon restores the dish before it,
/// with what could be redone then. A step in which nothing changed leaves no trace.
Document open_step(Document document, std::string title);
Document close_step(Document document);
Document abandon_step(Document document);

/// One step back or forth; the document as it was when there is none. An open step is closed first.
/// A dish that was saved counts as saved again when a step brings it back.
Document undo(Document document);
Document redo(Document document);

/// A dish from a file or a demo: one undo step, so that nothing open is ever lost.
Document replace_dish(Document document, dish::Dish dish, std::string file_name);

/// Drops the oldest undo steps until the history fits the budget; the newest always stays.
Document trim_history(Document document, std::size_t budget_bytes);

/// Memory a dish takes, about: what the history's budget counts.
std::size_t estimate_bytes(const dish::Dish& dish);

}  // namespace session
