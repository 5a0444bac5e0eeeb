// The page as the platform sees it: one opaque App, drawn when asked.
// The platform owns window, input, context and the moment of drawing; the App owns what is shown.
#pragma once

#include <string>

namespace page {

struct App;

/// Makes the App once, after the graphics context, fonts and restored storage are ready. Never
/// null; lives until the page ends.
App* make_app();

/// One frame of interface, between ImGui::NewFrame and ImGui::Render.
void frame(App& app);

/// The 3D view, drawn into its own rectangle of the cleared default framebuffer before the
/// interface is drawn over it.
void draw_scene(App& app);

/// The graphics context is gone: forget every GL object without deleting it. No frame is drawn
/// until it is restored.
void context_lost(App& app);

/// The graphics context is back, empty: make the GL objects anew.
void context_restored(App& app);

/// What a browser test may ask about: one JSON object.
std::string test_state(const App& app);

}  // namespace page
