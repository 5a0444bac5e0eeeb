// The brightness of disc and aureole after Buie, Monger & Dey, Solar Energy 74 (2003) 113, by their
// parameter chi, and the chi that gives a wanted circumsolar ratio.
#pragma once

#include <array>

namespace optics {

inline constexpr double k_buie_disc_mrad = 4.65;
inline constexpr double k_buie_edge_mrad = 43.6;

/// Radiance relative to the middle, at theta milliradians from it:
///   cos(0.326 theta) / cos(0.308 theta)   within 4.65 mrad,
///   e^kappa theta^gamma                   from there to 43.6 mrad, nothing beyond,
/// kappa = 0.9 ln(13.5 chi) chi^-0.3, gamma = 2.2 ln(0.52 chi) chi^0.43 - 0.1.
struct BuieAureole {
  double kappa = 0.0;
  double gamma = 0.0;
};

/// 0 < chi <= 0.9.
BuieAureole buie_aureole(double chi);

double buie_disc_radiance(double theta_mrad);
double buie_aureole_radiance(const BuieAureole& aureole, double theta_mrad);

/// Radiance integrated over 2 pi theta d theta from the disc's edge to theta; mrad^2. Closed form.
double buie_aureole_flux(const BuieAureole& aureole, double theta_mrad);

/// Radiance integrated over 2 pi theta d theta from the middle to theta <= 4.65; mrad^2.
/// Simpson's rule on cells of even theta^2, cubic within a cell: 1e-10 of the whole.
class BuieDisc {
 public:
  /// Made once, never changed.
  static const BuieDisc& get();
  [[nodiscard]] double flux(double theta_mrad) const;
  [[nodiscard]] double whole() const { return sums_[k_cells]; }

 private:
  BuieDisc();
  static constexpr std::size_t k_cells = 256;
  std::array<double, k_cells + 1> sums_{};
};

/// aureole / (disc + aureole) as it comes out of chi. It is far from chi itself: 0.01 gives 0.0004.
double buie_ratio(double chi);

/// The chi whose ratio is the wanted one, 0 < ratio <= 0.8, by bisection: buie_ratio rises
/// throughout (0, 0.9].
double buie_chi(double ratio);

}  // namespace optics
