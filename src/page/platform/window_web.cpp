// The canvas as the page's window: its size comes from the host, frames are scheduled by the host.
#include <emscripten.h>

#include <cmath>

#include "page/platform/clock.h"
#include "page/platform/pacing.h"
#include "page/platform/window.h"

// clang-format off
EM_JS(void, host_wake, (), { Module.host.frames.schedule(); });
EM_JS(void, host_set_title, (const char* title), { document.title = UTF8ToString(title); });
EM_JS(void, host_set_backdrop, (int red, int green, int blue), { Module.host.setBackdrop(red, green, blue); });
EM_JS(int, host_matches, (const char* query), { return matchMedia(UTF8ToString(query)).matches ? 1 : 0; });
EM_JS(double, host_utc_ms, (), { return Date.now(); });
EM_JS(double, host_zone_offset_min, (), { return -new Date().getTimezoneOffset(); });
// clang-format on

namespace {

struct Canvas {
  platform::Size size;
  float ratio = 1.0F;
};

Canvas& canvas() {
  static Canvas kept;
  return kept;
}

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE void fw_resize(double width, double height, double ratio) {
  canvas().size = {static_cast<float>(width), static_cast<float>(height)};
  canvas().ratio = static_cast<float>(ratio);
}

namespace platform {

Size display_size() { return canvas().size; }

float device_pixel_ratio() { return canvas().ratio; }

void wake() { host_wake(); }

void set_title(const char* title) { host_set_title(title); }

void set_backdrop(float red, float green, float blue) {
  const auto byte = [](float share) { return static_cast<int>(std::lround(share * 255.0F)); };
  host_set_backdrop(byte(red), byte(green), byte(blue));
}

bool prefers_reduced_motion() { return host_matches("(prefers-reduced-motion: reduce)") != 0; }

bool prefers_light() { return host_matches("(prefers-color-scheme: light)") != 0; }

double steady_s() { return emscripten_get_now() * 1e-3; }

double utc_s() { return host_utc_ms() * 1e-3; }

double zone_offset_min() { return host_zone_offset_min(); }

}  // namespace platform
