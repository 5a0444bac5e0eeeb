// Where the page is shown and when it is drawn.
#pragma once

namespace platform {

struct Size {
  float width = 0.0F;   ///< CSS pixels, the unit of every ImGui coordinate
  float height = 0.0F;  ///< CSS pixels
};

/// Size of the drawing area.
[[nodiscard]] Size display_size();

/// Framebuffer pixels for one CSS pixel: 1, 1.5, 2 and anything between.
[[nodiscard]] float device_pixel_ratio();

/// Asks for at least `count` more frames. Input asks by itself; everything else that changes what
/// is seen must ask. An ImGui change needs two: one to act, one to settle.
void request_frames(int count);

/// Asks for one frame after `seconds`: for what changes by itself, such as a running clock.
void request_frame_after(double seconds);

/// Frames still asked for; 0 while idle.
[[nodiscard]] int frames_requested();

/// The window's title.
void set_title(const char* title);

/// The colour behind and around the page before it is drawn, 0..1 each.
void set_backdrop(float red, float green, float blue);

/// The person's system asks for less movement.
[[nodiscard]] bool prefers_reduced_motion();

/// The person's system asks for a light ground rather than a dark one.
[[nodiscard]] bool prefers_light();

}  // namespace platform
