// Steps of the history: each holds the dish before it, so that going back is putting it back.
#include "session/document.h"

#include <utility>

#include "base/check.h"

namespace session {
namespace {

Snapshot snapshot_of(const Document& document, std::string title) {
  return {.title = std::move(title),
          .dish = std::make_shared<const dish::Dish>(document.dish),
          .file_name = document.file_name,
          .revision = document.revision,
          .bytes = estimate_bytes(document.dish)};
}

/// Puts a snapshot's dish back as a new revision, which is a saved one when the snapshot was.
void restore(Document& document, const Snapshot& snapshot) {
  const bool was_saved = snapshot.revision == document.saved_revision;
  document.dish = *snapshot.dish;
  document.file_name = snapshot.file_name;
  ++document.revision;
  if (was_saved) document.saved_revision = document.revision;
}

/// Ends what could be redone and keeps the history within its budget, after a new step.
Document settle(Document document) {
  document.redo_steps.clear();
  return trim_history(std::move(document), k_history_budget_bytes);
}

}  // namespace

std::size_t estimate_bytes(const dish::Dish& dish) {
  std::size_t bytes = sizeof(dish::Dish) + dish.facets.size() * sizeof(dish::Facet) +
                      dish.blockers.size() * sizeof(dish::Blocker) + dish.note.size();
  for (const dish::FacetType& type : dish.facet_types) {
    bytes += sizeof(type);
    if (const auto* polygon = std::get_if<dish::Polygon>(&type.outline))
      bytes += polygon->corners_m.size() * sizeof(base::Vec2);
  }
  for (const dish::Mount& mount : dish.mounts)
    bytes += sizeof(mount) + mount.adjusters.size() * sizeof(dish::Adjuster);
  bytes += dish.springs.size() * sizeof(dish::Spring);
  for (const dish::Round& round : dish.rounds)
    bytes += sizeof(round) + round.spots.size() * sizeof(dish::Spot) +
             round.leans.size() * sizeof(dish::Lean) +
             round.heights.size() * sizeof(dish::GaugeHeight) +
             round.turned.size() * sizeof(dish::Turned);
  for (const dish::UnknownKey& key : dish.unknown)
    bytes += sizeof(key) + key.place.size() + key.key.size() + key.json.size();
  return bytes;
}

Document trim_history(Document document, std::size_t budget_bytes) {
  std::size_t kept = 0;
  std::size_t bytes = 0;
  const std::vector<Snapshot>& steps = document.undo_steps;
  while (kept < steps.size()) {
    bytes += steps[steps.size() - 1 - kept].bytes;
    if (kept > 0 && bytes > budget_bytes) break;
    ++kept;
  }
  document.undo_steps.erase(document.undo_steps.begin(),
                            document.undo_steps.end() - static_cast<std::ptrdiff_t>(kept));
  return document;
}

base::Result<Document> edit(Document document, const dish::Edit& edit) {
  return edit_all(std::move(document), {edit}, dish::title_of(edit));
}

base::Result<Document> edit_all(Document document, const std::vector<dish::Edit>& edits,
                                std::string title) {
  dish::Dish changed = document.dish;
  for (const dish::Edit& edit : edits) {
    base::Result<dish::Dish> result = dish::apply(std::move(changed), edit);
    if (!result) return result.problems();
    changed = std::move(result).value();
  }
  const bool folds = document.step_open;
  if (!folds) document.undo_steps.push_back(snapshot_of(document, std::move(title)));
  document.dish = std::move(changed);
  ++document.revision;
  if (folds) return document;
  return settle(std::move(document));
}

Document open_step(Document document, std::string title) {
  if (document.step_open) document = close_step(std::move(document));
  document.undo_steps.push_back(snapshot_of(document, std::move(title)));
  document.step_open = true;
  return document;
}

Document close_step(Document document) {
  if (!document.step_open) return document;
  CHECK(!document.undo_steps.empty(), "an open step stands at the end of the history");
  document.step_open = false;
  if (document.undo_steps.back().revision == document.revision) {
    document.undo_steps.pop_back();
    return document;
  }
  return settle(std::move(document));
}

Document abandon_step(Document document) {
  if (!document.step_open) return document;
  CHECK(!document.undo_steps.empty(), "an open step stands at the end of the history");
  document.step_open = false;
  if (document.undo_steps.back().revision != document.revision)
    restore(document, document.undo_steps.back());
  document.undo_steps.pop_back();
  return document;
}

Document undo(Document document) {
  document = close_step(std::move(document));
  if (document.undo_steps.empty()) return document;
  const Snapshot before = std::move(document.undo_steps.back());
  document.undo_steps.pop_back();
  document.redo_steps.push_back(snapshot_of(document, before.title));
  restore(document, before);
  return document;
}

Document redo(Document document) {
  document = close_step(std::move(document));
  if (document.redo_steps.empty()) return document;
  const Snapshot after = std::move(document.redo_steps.back());
  document.redo_steps.pop_back();
  document.undo_steps.push_back(snapshot_of(document, after.title));
  restore(document, after);
  return document;
}

Document replace_dish(Document document, dish::Dish dish, std::string file_name) {
  document = close_step(std::move(document));
  document.undo_steps.push_back(snapshot_of(document, "Open " + dish.name));
  document.dish = std::move(dish);
  document.file_name = std::move(file_name);
  ++document.revision;
  document.saved_revision = document.revision;
  return settle(std::move(document));
}

}  // namespace session
