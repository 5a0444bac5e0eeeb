// The trial of two facets' screws: what to do now, where the two spots lie, and what the looks say.
#pragma once

#include "align/labels.h"
#include "page/bench/fields.h"
#include "session/session.h"

namespace page {

/// Of the trial that the shown round belongs to.
void show_trial_rows(const session::Session& session, FieldMemory& fields,
                     session::Actions& actions);

/// A button that puts the file right as the verdict says; nothing when it is not sure how.
void show_correction(const align::LabelVerdict& verdict, session::Actions& actions);

}  // namespace page
