// The one door between SI (inside) and the units of the trade (files and screen).
#pragma once

#include <numbers>

namespace base {

inline constexpr double k_pi = std::numbers::pi;

constexpr double m_from_mm(double mm) { return mm / 1000.0; }
constexpr double mm_from_m(double m) { return m * 1000.0; }
constexpr double rad_from_mrad(double mrad) { return mrad / 1000.0; }
constexpr double mrad_from_rad(double rad) { return rad * 1000.0; }
constexpr double rad_from_deg(double deg) { return deg * (k_pi / 180.0); }
constexpr double deg_from_rad(double rad) { return rad * (180.0 / k_pi); }

}  // namespace base
