// Means over windows, phases, and how far each can be trusted.
#include "photo/read_fringes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "base/elementary.h"
#include "base/units.h"

namespace photo {
namespace {

using base::Vec2;

constexpr double k_window_share = 0.35;       ///< of the mirror's radius
constexpr double k_least_mirror_px = 1.5;     ///< radius, in pixels of the reduced photo
constexpr double k_least_modulation = 0.05;   ///< common practice, no source
constexpr double k_most_phase_sigma = 0.06;   ///< rad; 1 % of the wave
constexpr double k_most_mismatch = 0.8;       ///< of the swing; a bent tone curve makes 0.25
constexpr double k_curve_sigma_rad = 0.0084;  ///< 0.0119 / sqrt 2, see the header
constexpr double k_most_bright_share = 0.05;
constexpr double k_off_screen_share = 0.02;  ///< of a side: beyond its edge by more is no place

/// What one window holds in one picture.
struct WindowMean {
  double light = 0.0;
  double bright_share = 0.0;
};

bool is_within(const Image& image, const Vec2& middle, double radius) {
  return middle.x - radius >= 0.0 && middle.y - radius >= 0.0 && middle.x + radius <= image.width &&
         middle.y + radius <= image.height;
}

/// Mean over a disc with a soft rim, in pixels of the reduced photo; the disc lies within it.
WindowMean mean_of(const Image& image, const Vec2& middle, double radius) {
  const auto first = [](double from) { return std::max(0, static_cast<int>(std::floor(from))); };
  WindowMean mean;
  double weight = 0.0;
  for (int y = first(middle.y - radius - 1.0); y < image.height && y < middle.y + radius + 1.0;
       ++y) {
    for (int x = first(middle.x - radius - 1.0); x < image.width && x < middle.x + radius + 1.0;
         ++x) {
      const double off = glm::distance(Vec2(x + 0.5, y + 0.5), middle);
      const double share = std::clamp(radius + 0.5 - off, 0.0, 1.0);
      if (share == 0.0) continue;
      const std::uint16_t light = image.at(x, y);
      weight += share;
      mean.light += share * light / k_full_scale;
      if (light >= k_saturated_from) mean.bright_share += share;
    }
  }
  if (weight == 0.0) return mean;
  return {mean.light / weight, mean.bright_share / weight};
}

/// Both waves at one window.
struct Waves {
  FourSteps across;
  FourSteps up;
  double bright_share = 0.0;
};

Waves waves_at(const std::vector<Image>& photos, const Vec2& middle, double radius) {
  std::array<double, k_fringe_steps> across{};
  std::array<double, k_fringe_steps> up{};
  Waves waves;
  for (std::size_t k = 0; k < k_fringe_pictures; ++k) {
    const WindowMean mean = mean_of(photos[k], middle, radius);
    (k < k_fringe_steps ? across : up)[k % k_fringe_steps] = mean.light;
    waves.bright_share = std::max(waves.bright_share, mean.bright_share);
  }
  waves.across = read_four(across);
  waves.up = read_four(up);
  return waves;
}

/// A place in pixels of the reduced photos, and what was read there.
struct Window {
  Vec2 middle{0.0, 0.0};
  double radius = 0.0;
  FringeFault fault = FringeFault::none;
  Waves waves;
};

double modulation_of(const FourSteps& four) {
  return four.mean > 0.0 ? four.swing / four.mean : 0.0;
}

Window window_at(const std::vector<Image>& photos, const FringePlace& place) {
  const double reduction = photos.front().reduction;
  const double mirror = place.radius_px / reduction;
  Window window{.middle = place.image_px / reduction,
                .radius = std::max(k_window_share * mirror, 0.75)};
  if (!is_within(photos.front(), window.middle, 2.0 * window.radius)) {
    window.fault = FringeFault::outside;
  } else if (mirror < k_least_mirror_px) {
    window.fault = FringeFault::too_small;
  }
  if (window.fault != FringeFault::none) return window;
  window.waves = waves_at(photos, window.middle, window.radius);
  const auto& [across, up, bright] = window.waves;
  if (bright > k_most_bright_share) {
    window.fault = FringeFault::too_bright;
  } else if (std::min(modulation_of(across), modulation_of(up)) < k_least_modulation) {
    window.fault = FringeFault::no_fringes;
  } else if (std::abs(across.mismatch) > k_most_mismatch * across.swing ||
             std::abs(up.mismatch) > k_most_mismatch * up.swing) {
    window.fault = FringeFault::unsteady;
  }
  return window;
}

double middle_of(std::vector<double> values) {
  if (values.empty()) return 0.0;
  const auto half = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), half, values.end());
  return *half;
}

/// What makes the mismatches of a wave: a bent tone curve adds a second harmonic, which goes with
/// swing cos(2 phase); light that changed goes with the mean; noise is the rest.
struct Causes {
  double change = 0.0;  ///< of one picture's light, share of the mean
  std::vector<double> rest;
};

/// Takes the part that goes with `shape` off the mismatches; returns how much of it there was.
double take_off(std::vector<double>& mismatches, const std::vector<double>& shape) {
  double both = 0.0;
  double own = 0.0;
  for (std::size_t k = 0; k < shape.size(); ++k) {
    both += mismatches[k] * shape[k];
    own += shape[k] * shape[k];
  }
  const double share = own > 0.0 ? both / own : 0.0;
  for (std::size_t k = 0; k < shape.size(); ++k) mismatches[k] -= share * shape[k];
  return share;
}

Causes causes_of(const std::vector<Window>& windows, FourSteps Waves::*wave) {
  std::vector<double> curve;
  std::vector<double> mean;
  Causes causes;
  for (const Window& window : windows) {
    if (window.fault != FringeFault::none) continue;
    const FourSteps& four = window.waves.*wave;
    causes.rest.push_back(four.mismatch);
    curve.push_back(four.swing * base::sincos_turns(2.0 * four.phase_turns).cos);
    mean.push_back(four.mean);
  }
  take_off(causes.rest, curve);
  causes.change = 0.5 * std::abs(take_off(causes.rest, mean));
  return causes;
}

/// Noise of one brightness and change of the light, of both waves together. Four brightnesses make
/// up a mismatch, whose sigma is therefore twice that of one.
void measure_noise(const std::vector<Window>& windows, FringeReadings& read) {
  const Causes across = causes_of(windows, &Waves::across);
  const Causes up = causes_of(windows, &Waves::up);
  std::vector<double> sizes;
  for (const Causes* causes : {&across, &up}) {
    for (const double rest : causes->rest) sizes.push_back(std::abs(rest));
  }
  read.noise = 0.5 * 1.4826 * middle_of(std::move(sizes));
  read.change = std::sqrt(0.5 * (base::square(across.change) + base::square(up.change)));
}

/// Change of the reading for each pixel that the window is moved, the larger of both directions.
Vec2 slope_of(const std::vector<Image>& photos, const Window& window, const Vec2& wave) {
  Vec2 most{0.0, 0.0};
  for (const Vec2& way : {Vec2{window.radius, 0.0}, Vec2{0.0, window.radius}}) {
    const Waves before = waves_at(photos, window.middle - way, window.radius);
    const Waves after = waves_at(photos, window.middle + way, window.radius);
    const auto slope = [&](const FourSteps& from, const FourSteps& to, double length) {
      const double turns = to.phase_turns - from.phase_turns;
      return std::abs(turns - std::round(turns)) * length / (2.0 * window.radius);
    };
    most.x = std::max(most.x, slope(before.across, after.across, wave.x));
    most.y = std::max(most.y, slope(before.up, after.up, wave.y));
  }
  return most;
}

double sigma_of(const FourSteps& four, double noise, double wave, double by_place) {
  const double phase = std::hypot(noise / (std::sqrt(2.0) * four.swing), k_curve_sigma_rad);
  return std::hypot(wave * phase / (2.0 * base::k_pi), by_place);
}

FringeReading reading_of(const std::vector<Image>& photos, const Screen& screen,
                         const FringePlace& place, const Window& window, double noise) {
  FringeReading reading{.fault = window.fault};
  if (reading.fault == FringeFault::outside || reading.fault == FringeFault::too_small) {
    return reading;
  }
  const FourSteps& across = window.waves.across;
  const FourSteps& up = window.waves.up;
  reading.modulation = std::min(modulation_of(across), modulation_of(up));
  if (reading.fault != FringeFault::none) return reading;
  const Vec2 wave = wave_m(screen);
  reading.screen_m = {across.phase_turns * wave.x, up.phase_turns * wave.y};
  const Vec2 by_place = slope_of(photos, window, wave) *
                        (place.sigma_px / static_cast<double>(photos.front().reduction));
  reading.sigma_m = {sigma_of(across, noise, wave.x, by_place.x),
                     sigma_of(up, noise, wave.y, by_place.y)};
  const double edge = 0.5 + k_off_screen_share;
  if (noise > k_most_phase_sigma * std::sqrt(2.0) * std::min(across.swing, up.swing)) {
    reading.fault = FringeFault::no_fringes;
  } else if (std::abs(reading.screen_m.x) > edge * screen.width_m ||
             std::abs(reading.screen_m.y) > edge * screen.height_m) {
    reading.fault = FringeFault::off_screen;
  }
  return reading;
}

std::optional<base::Problem> problem_of_set(const std::vector<Image>& photos,
                                            const std::vector<std::string>& names) {
  if (photos.size() != k_fringe_pictures) {
    return base::Problem{"photos", fmt::format("{}", photos.size()),
                         "eight, one of each picture of the screen, in their order"};
  }
  const Image& first = photos.front();
  for (std::size_t k = 1; k < photos.size(); ++k) {
    const Image& one = photos[k];
    if (one.width == first.width && one.height == first.height &&
        one.reduction == first.reduction) {
      continue;
    }
    return base::Problem{names[k], fmt::format("{} x {} pixels", one.size_px().x, one.size_px().y),
                         fmt::format("{} x {} as in {}: the camera must not move, turn or zoom",
                                     first.size_px().x, first.size_px().y, names.front())};
  }
  return std::nullopt;
}

}  // namespace

base::Result<FringeReadings> read_fringes(const std::vector<Image>& photos,
                                          const std::vector<std::string>& names,
                                          const Screen& screen,
                                          const std::vector<FringePlace>& places) {
  if (auto problem = problem_of_set(photos, names)) return *std::move(problem);
  std::vector<Window> windows;
  windows.reserve(places.size());
  for (const FringePlace& place : places) windows.push_back(window_at(photos, place));
  FringeReadings read;
  measure_noise(windows, read);
  for (std::size_t k = 0; k < places.size(); ++k) {
    const double changed = read.change * windows[k].waves.across.mean;
    read.places.push_back(
        reading_of(photos, screen, places[k], windows[k], std::hypot(read.noise, changed)));
  }
  return read;
}

const char* words_of(FringeFault fault) {
  switch (fault) {
    case FringeFault::none:
      return "is read";
    case FringeFault::outside:
      return "is not wholly in the photos";
    case FringeFault::too_small:
      return "is too small in the photos: come nearer or zoom in";
    case FringeFault::too_bright:
      return "is at the camera's full scale: expose shorter";
    case FringeFault::no_fringes:
      return "shows no fringes: something hides the screen from it, its screws stand so far off "
             "that it shows what is beside the screen, or the day is too bright";
    case FringeFault::unsteady:
      return "changes otherwise than the fringes do: pictures in another order, or light that "
             "comes and goes";
    case FringeFault::off_screen:
      return "shows a place beyond the screen's edge: it is half on the screen and half beside it";
  }
  return "";
}

}  // namespace photo
