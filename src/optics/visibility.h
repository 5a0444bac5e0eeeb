// Which share of a piece's light is shaded, blocked or lost: by how far rays pass from the edges of
// what may stand in their way, blurred by the sun and the errors, at points that cover the piece.
#pragma once

#include <vector>

#include "base/vec.h"
#include "optics/cone_kernel.h"
#include "optics/facet_nodes.h"
#include "optics/scene.h"

namespace optics {

/// Shares of caught light; what is left of 1 lands on the receiver's plane.
struct Fates {
  double shaded = 0.0;
  double blocked = 0.0;       ///< before the secondary, or on the way to a prime-focus receiver
  double blocked_late = 0.0;  ///< after the secondary
  double missed = 0.0;        ///< the secondary

  [[nodiscard]] double landed() const { return 1.0 - shaded - blocked - blocked_late - missed; }
};

/// What can really stand in a facet's light, and how it is blurred.
class Visibility {
 public:
  /// `late` says whether anything may stand between the secondary and the receiver.
  Visibility(const Scene& scene, std::size_t facet, ConeKernels& kernels, bool late);

  /// Nothing ever stops this facet's light.
  [[nodiscard]] bool is_clear() const { return shaders_.empty() && blockers_.empty() && !late_; }

  /// Mean fates over a piece, by about `points` points; the secondary's rim is not looked at.
  [[nodiscard]] Fates of(const FacetNode& piece, int points) const;

 private:
  /// A direction's light and its blur, in standard deviations per axis, rad.
  struct Beam {
    double deviation_rad = 0.0;
    ConeProfile profile;
  };
  struct Spot {
    base::Vec3 at{0.0};
    base::Vec3 leaving{0.0};  ///< of the chief ray
    double most = 0.0;        ///< distance to the next element
  };
  [[nodiscard]] Spot spot_at(const base::Vec2& uv) const;
  [[nodiscard]] std::vector<std::uint32_t> in_the_way(const Span& span, bool toward_sun,
                                                      const std::vector<Spot>& corners) const;
  /// Whether a facet covers any of this one's light.
  [[nodiscard]] bool reaches(std::uint32_t code, const Beam& beam, bool toward_sun) const;
  [[nodiscard]] double covered(const std::vector<std::uint32_t>& codes, const Beam& beam,
                               const Spot& spot, const base::Vec3& direction, double most,
                               const FacetNode& cell) const;

  const Scene& scene_;
  const SceneFacet& facet_;
  Beam toward_sun_;
  Beam leaving_;
  std::vector<std::uint32_t> shaders_;
  std::vector<std::uint32_t> blockers_;
  bool late_ = false;
};

/// Whether a facet, or how many things, may stand between the secondary and the receiver (twice its
/// size, so that light that spills nearby is judged as well). Light that spills farther off is
/// taken as spilled.
bool touches_last_stretch(const Scene& scene, std::size_t facet);
std::size_t count_late_blockers(const Scene& scene);

}  // namespace optics
