// What the inner loop of the trace reads and writes: one facet and a block of its rays, everything
// seen from that facet, as plain numbers. Compiled once for every vector width (kernel_*.cpp).
#pragma once

#include <cstdint>

namespace optics {

inline constexpr int k_kernel_rays = 1024;  ///< at most, in a block
inline constexpr int k_kernel_dimensions = 12;
inline constexpr int k_kernel_prime_dimensions = 8;  ///< without a secondary
/// Moments go to sixteen sums, by the ray's number, whatever the width: so the bits are the same.
inline constexpr int k_kernel_sums = 16;
inline constexpr int k_kernel_grid = 256;

/// An outline about its own origin, and how points are spread over it.
template <class T>
struct KernelOutline {
  enum Kind { polygon, ring };
  enum Spread { parallelogram, rhombi, fan, arc };
  int kind;
  int spread;
  int sides;
  const T* side;    ///< a, b, c of each: inside is a u + b v <= c
  const T* corner;  ///< u, v of each
  const T* share;   ///< of the fan: area up to and with each triangle, `sides` - 2 of them
  T bounding2, surely2;
  T centre[2];
  T inner2, outer2, opening_turns, opening_side[2];
};

/// Something that can stop light, in a frame of its own that is reached from the ray's frame by
/// rows and origin.
template <class T>
struct KernelStopper {
  enum Kind { mirror, round_plate, square_plate, box, tube };
  int kind;
  T bounds[4];   ///< centre in the ray's frame, radius squared
  T row[3][3];   ///< own axes seen from the ray's frame
  T origin[3];   ///< of the ray's frame in the own one
  T quadric[6];  ///< of a mirror: uu vv ww uv uw vw
  T radius;      ///< of a mirror's bounds
  T half[3];     ///< of plates and boxes; of a tube: radius, length
  const KernelOutline<T>* outline;
};

/// The receiver's plane in the frame of the last stretch: x = right . point - right_at, and so on.
template <class T>
struct KernelPlane {
  T right[3], up[3], normal[3];
  T right_at, up_at, normal_at;
};

template <class T>
struct KernelFacet {
  const KernelOutline<T>* outline;
  int is_flat, is_axial, is_sphere;
  T quadric[6];
  T sun[3], sun_x[3], sun_y[3];  ///< to the sun's middle, and across
  T slope, specularity;
  T units, most_units;     ///< of light in a ray of full weight
  T chief[2];              ///< where moments are taken about
  KernelPlane<T> plane;    ///< without a secondary
  T row[3][3], origin[3];  ///< secondary from facet
  const KernelStopper<T>* shaders;
  const KernelStopper<T>* blockers;
  int shader_count, blocker_count;
};

template <class T>
struct KernelScene {
  int is_pillbox;
  T disc_sine;
  T split, disc_steps, aureole_steps;  ///< table places for each t
  const float* sun_table;              ///< disc, then aureole

  int has_secondary;
  T curvature, axial_curvature;  ///< its quadric is curvature (u2 + v2) + axial w2 - 2 w
  T rim2, hole2;
  T secondary_slope, secondary_specularity;
  KernelPlane<T> plane;           ///< from the secondary's frame
  const KernelStopper<T>* after;  ///< what stands between the secondary and the receiver
  int after_count;
  /// After the secondary no facet is in the way of rays that stay within `safe2` of the receiver's
  /// vertical axis from `safe_height` above its plane on; others are left for `asked`.
  int is_always_safe;
  T safe2, safe_height;

  int is_round;
  T half[2], half2;
  T cells_per_m;  ///< of the grid about the receiver's centre
};

/// Points: whole states, 23 bits under the exponent of 1.
struct KernelPoints {
  std::uint32_t state[k_kernel_dimensions][16];  ///< of the first sixteen rays
  /// What changes in all lanes from one group of lanes to the next, by the number of low one bits
  /// of the group's number.
  const std::uint32_t (*step)[k_kernel_dimensions];
  const std::uint32_t (*step_alone)[k_kernel_dimensions];  ///< the same for one lane
};

template <class T>
struct KernelWord {
  using Int = std::int32_t;
};
template <>
struct KernelWord<double> {
  using Int = std::int64_t;
};

template <class T>
struct KernelRays {
  using Int = typename KernelWord<T>::Int;
  enum Cell { outside = -1, asked = -2 };
  enum End { shaded, blocked, blocked_after, missed, lost, landed };

  // Whole units of light.
  std::int64_t units_shaded, units_blocked, units_blocked_after, units_missed, units_lost;
  std::int64_t units_plane, units_receiver;
  T moment[4][k_kernel_sums];  ///< x, y, xx, yy about the chief, times units

  Int cell[k_kernel_rays];   ///< row * k_kernel_grid + column, or a Cell
  Int units[k_kernel_rays];  ///< 0 unless landed or asked
  T x[k_kernel_rays];        ///< on the receiver's plane
  T y[k_kernel_rays];
  T asked_point[3][k_kernel_rays];  ///< in the secondary's frame
  T asked_way[3][k_kernel_rays];
};

/// For comparing ray by ray: what was drawn and how it ended.
template <class T>
struct KernelTrail {
  T u[k_kernel_rays], v[k_kernel_rays];
  T sun[3][k_kernel_rays];   ///< facet's frame, to the sun
  T turn[8][k_kernel_rays];  ///< facet's slope and specularity, the secondary's
  typename KernelWord<T>::Int end[k_kernel_rays];
};

/// Form errors of each ray's point.
template <class T>
struct KernelOffsets {
  T height[k_kernel_rays], slope_u[k_kernel_rays], slope_v[k_kernel_rays];
};

template <class T>
struct KernelBatch {
  const KernelScene<T>* scene;
  const KernelFacet<T>* facet;
  const KernelPoints* points;
  const KernelOffsets<T>* offsets;  ///< or none
  KernelTrail<T>* trail;            ///< or none
  int rays;                         ///< a multiple of sixteen
};

/// Follows the rays. All widths give the same bits.
void run_kernel_1(const KernelBatch<float>& batch, KernelRays<float>& rays);
void run_kernel_4(const KernelBatch<float>& batch, KernelRays<float>& rays);
void run_kernel_8(const KernelBatch<float>& batch, KernelRays<float>& rays);
void run_kernel_16(const KernelBatch<float>& batch, KernelRays<float>& rays);
/// The same source in double, the reference.
void run_kernel_double(const KernelBatch<double>& batch, KernelRays<double>& rays);

/// Only the points on the facet: u and v of the trail.
void spread_kernel_float(const KernelBatch<float>& batch, float* u, float* v);
void spread_kernel_double(const KernelBatch<double>& batch, double* u, double* v);

}  // namespace optics
