// Rows of the bench: a number of the dish that can be dragged or typed, a choice, a figure.
// Each row reads a value and returns wishes; ranges and units come from dish/ranges.
#pragma once

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "dish/edit.h"
#include "dish/ranges.h"
#include "session/actions.h"

namespace page {

/// What the rows remember from frame to frame: the refusal shown beside the field it happened in.
struct FieldMemory {
  unsigned refused_id = 0;
  std::string refused;
};

/// A heading with a thin rule above it, which opens a group of rows.
void section(const char* title);

/// Text over the whole width, broken at spaces only, so that no number is torn apart.
void paragraph(const std::string& text);

/// The same in small letters and the soft ink.
void remark(const char* text);

/// A number of the dish. `edit` makes the edit for a new SI value; a drag is one undo step called
/// `title`, Esc takes it back, and a value out of range is refused with the range beside it.
struct NumberRow {
  const char* label;
  dish::ranges::Quantity quantity;
  double si = 0.0;
  const char* hint = "";  ///< what it is, on hover
};
void number_row(const NumberRow& row, FieldMemory& memory, session::Actions& actions,
                const std::function<dish::Edit(double)>& edit);

/// The same for a number that is not in the dish: returns the new SI value while it changes.
std::optional<double> plain_number_row(const NumberRow& row, FieldMemory& memory);

/// One of a few named things, as a drop-down. Returns the index when another one is chosen.
/// While the list is closed it shows `in_short`, or the chosen name where that is empty.
std::optional<int> choice_row(const char* label, const std::vector<std::string>& names, int chosen,
                              const char* hint = "", const std::string& in_short = "");

/// On or off. Returns the new state when it was clicked.
std::optional<bool> switch_row(const char* label, bool on, const char* hint = "");

/// A computed figure with its unit; `hint` says what it is and what it leaves out.
void figure_row(const char* label, const std::string& figure, const char* hint = "");

/// A button over the whole width; `quiet` ones are drawn as text with a rule.
bool wide_button(const char* label, bool possible = true, const char* why_not = "");

/// Wrapped text as the tooltip of the last item.
void hint_for_last(const char* hint);

/// Tells the browser tests where the last item stands, under a name that is not on the screen.
void note_last_item(const char* name);

}  // namespace page
