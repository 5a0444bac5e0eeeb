// The life of the page: what a platform's entry calls, the same for browser and native window.
#pragma once

namespace page {

/// Makes ImGui, fonts, theme and the App. The graphics context is current; input and storage are
/// ready.
void start();

/// Draws one frame. Returns the seconds until the next one is wanted: 0 at the next refresh,
/// negative for not before something happens.
double draw(double now_s);

/// Graphics context lost and restored; between the two draw() does nothing.
void lose_context();
void restore_context();

/// One JSON object for browser tests: {"settled":…, "frames":…, "jobs":…, "app":{…}}.
const char* test_report();

}  // namespace page
