// Tables first, then one look-up a cell.
#include "page/widgets/light.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "page/look/ramp.h"

namespace widgets {
namespace {

// How soon each colour saturates: red first, blue last, so that faint light is amber.
constexpr double k_red = 0.85;
constexpr double k_green = 0.46;
constexpr double k_blue = 0.20;
constexpr double k_brightest = 80.0;  // exposure at the end of the light table, where all is white
constexpr std::size_t k_steps = 1024;

std::uint8_t byte(double share) {
  return static_cast<std::uint8_t>(std::lround(255.0 * std::clamp(share, 0.0, 1.0)));
}

using Table = std::array<std::array<std::uint8_t, 4>, k_steps>;

// Steps are even in the square root of the exposure, which is fine where the eye is.
const Table& light_table() {
  static const Table table = [] {
    Table made{};
    for (std::size_t i = 0; i < k_steps; ++i) {
      const double root = static_cast<double>(i) / (k_steps - 1);
      const Glow glow = glow_of(k_brightest * root * root);
      made[i] = {byte(glow.red), byte(glow.green), byte(glow.blue), 255};
    }
    return made;
  }();
  return table;
}

}  // namespace

double reference_flux_W_m2(const optics::TraceResult& figures, double receiver_area_m2) {
  return receiver_area_m2 > 0.0 ? figures.power_reflected_W / receiver_area_m2 : 0.0;
}

Glow glow_of(double exposure) {
  // The power holds more stops between dark and white, as film does.
  const double light = std::pow(std::max(exposure, 0.0), 0.72);
  const auto part = [light](double gain) {
    // The power lifts the toe as a screen's gamma does.
    return static_cast<float>(std::pow(1.0 - std::exp(-gain * light), 1.0 / 1.6));
  };
  return {part(k_red), part(k_green), part(k_blue)};
}

std::vector<std::uint8_t> map_picture(const optics::FluxMap& map, MapLook look, double full_W_m2) {
  static const std::array<std::uint8_t, 1024> ramp = look::ramp_bytes();
  std::vector<std::uint8_t> bytes(4 * map.flux_W_m2.size());
  for (std::size_t i = 0; i < map.flux_W_m2.size(); ++i) {
    const double share = full_W_m2 > 0.0 ? std::max(map.flux_W_m2[i] / full_W_m2, 0.0) : 0.0;
    const std::uint8_t* colour = nullptr;
    if (look == MapLook::light) {
      const double root = std::min(std::sqrt(share / k_brightest), 1.0);
      colour = light_table()[static_cast<std::size_t>(std::lround(root * (k_steps - 1)))].data();
    } else {
      colour = &ramp[4 * static_cast<std::size_t>(std::lround(255.0 * std::min(share, 1.0)))];
    }
    std::copy(colour, colour + 4, &bytes[4 * i]);
  }
  return bytes;
}

}  // namespace widgets
