// What reaches ImGui from keyboard and pointer, beside ImGui's own queue.
#pragma once

namespace platform {

/// Prepares ImGui for this platform's input. Once, after ImGui's context is made.
void install_input();

/// Tells the platform after each frame whether text is being typed and where its caret is, so that
/// a soft keyboard and an input method's window appear where they belong.
void after_frame_input();

/// The last press came from a finger or pen rather than a mouse: targets should be larger.
[[nodiscard]] bool touch_in_use();

}  // namespace platform
