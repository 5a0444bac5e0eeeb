// Which share of a piece's light is shaded, blocked or lost: by how far rays pass from the edges of
// what may stand in their way, blurred by the sun and the errors, at points that cover the piece.
#pragma once

#include <array>
#include <cstdint>
#include <span>
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

/// A piece whose light something may stop.
struct SeenPiece {
  Fates fates;    ///< mean over the piece
  FacetNode lit;  ///< the piece with the middle and the spread of what of it lands; its share as is
};

/// What can really stand in a facet's light, and how it is blurred.
class Visibility {
 public:
  /// `late` says whether anything may stand between the secondary and the receiver.
  Visibility(const Scene& scene, std::size_t facet, ConeKernels& kernels, bool late);

  /// Nothing ever stops this facet's light.
  [[nodiscard]] bool is_clear() const { return shaders_.empty() && blockers_.empty() && !late_; }

  /// What becomes of a piece's light. Its parts, which have a shape to be cut by, are cut into
  /// quarters `depth` times where an edge may be near; the secondary's rim is not looked at.
  [[nodiscard]] SeenPiece of(const FacetNode& piece, std::span<const FacetNode> parts, int depth);

 private:
  using Codes = std::vector<std::uint32_t>;
  /// A direction's light and its blur, in standard deviations per axis, rad.
  struct Beam {
    bool is_toward_sun = false;
    double deviation_rad = 0.0;
    double turn_rad_m = 0.0;  ///< the most that its direction turns in a metre across the facet
    ConeBlend profile;
  };
  struct Spot {
    base::Vec3 at{0.0};
    base::Vec3 leaving{0.0};  ///< of the chief ray
    double most = 0.0;        ///< distance to the next element
  };
  [[nodiscard]] Spot spot_at(const base::Vec2& uv) const;
  /// Along the outline, finely enough for `reaches`.
  [[nodiscard]] std::vector<Spot> outline_spots() const;
  /// The most that leaving directions turn in a metre from the middle.
  [[nodiscard]] double turn_over(const std::vector<Spot>& corners) const;
  [[nodiscard]] const base::Vec3& direction_of(const Beam& beam, const Spot& spot) const;
  [[nodiscard]] Codes in_the_way(const Span& span, const Beam& beam,
                                 const std::vector<Spot>& corners,
                                 std::vector<Spot>& outline) const;
  /// Whether a facet covers any of this one's light. Fills an empty `outline`.
  [[nodiscard]] bool reaches(std::uint32_t code, const Beam& beam,
                             std::vector<Spot>& outline) const;
  /// Those of `codes` that may cover anything of a block of a piece whose smallest blocks are
  /// `least_deviation_m` wide.
  void keep_near(const Codes& codes, const Beam& beam, const Spot& middle, double radius_m,
                 double least_deviation_m, Codes& near) const;
  struct Gathering;
  void look(const FacetNode& block, int depth, const Codes& shaders, const Codes& blockers,
            Gathering& sum);
  [[nodiscard]] double covered(const Codes& codes, const Beam& beam, const Spot& spot, double most,
                               const FacetNode& cell) const;

  const Scene& scene_;
  const SceneFacet& facet_;
  Beam toward_sun_;
  Beam leaving_;
  Codes shaders_;
  Codes blockers_;
  bool late_ = false;
  struct Near {
    Codes shaders;
    Codes blockers;
  };
  std::array<Near, 12> near_;  ///< of the blocks that are looked at, one inside the other
};

/// Whether a facet, or how many things, may stand between the secondary and the receiver (twice its
/// size, so that light that spills nearby is judged as well). Light that spills farther off is
/// taken as spilled.
bool touches_last_stretch(const Scene& scene, std::size_t facet);
std::size_t count_late_blockers(const Scene& scene);

}  // namespace optics
