// Three screws and the pose they give a facet: exact both ways, for any finite tilt.
#pragma once

#include <array>

#include "base/result.h"
#include "base/vec.h"
#include "dish/facet.h"
#include "dish/mount.h"

namespace adjusters {

/// Where a facet's three screws stand and move. Heights are measured from the bracket's reference
/// plane along its axis, positive toward the sun.
struct Bracket {
  base::Pose dish_from_bracket;         ///< z is the axis the screws move along
  std::array<base::Vec2, 3> seats_m{};  ///< (X, Y) of each screw on the bracket
  double face_offset_m = 0.0;           ///< ball plane to reflecting face, along the normal
  base::Vec2 foot_m{0.0, 0.0};          ///< (X, Y) under the face's centre, where it stays
};

/// Position and tilt of a facet: the reflecting face's centre and its unit normal.
struct FacePose {
  base::Vec3 centre{0.0, 0.0, 0.0};
  base::Vec3 normal{0.0, 0.0, 1.0};
};

using Heights = std::array<double, 3>;

/// The plane h = height0 + alpha X + beta Y through the three screw ends.
struct ScrewPlane {
  double height0_m = 0.0;
  double alpha = 0.0;
  double beta = 0.0;
};

/// Bracket of a facet whose nominal face pose is `nominal`. Uses the facet's own bracket when it
/// has one, else the mount's lie and standoff. The face's centre keeps its place over the bracket:
/// `foot_m` is where the nominal centre, less the face offset along the normal, stands.
/// Problems: no mount, not three adjusters, the three in a line (lever under 1 % of their spread),
/// zero pitch, a bracket of its own that has no axis or faces away; each names the facet.
base::Result<Bracket> bracket_of(const dish::Facet& facet, const dish::Mount* mount,
                                 const FacePose& nominal);

/// h = height0 + alpha X + beta Y through the three ends; exact for any finite tilt.
ScrewPlane plane_through(const Bracket& bracket, const Heights& heights_m);

/// n = Rb (-alpha, -beta, 1) / sqrt(1 + alpha^2 + beta^2); the centre stands over the foot.
FacePose pose_from_plane(const Bracket& bracket, const ScrewPlane& plane);
FacePose pose_from_heights(const Bracket& bracket, const Heights& heights_m);

/// h_k = [(C - t n - B0).n - X_k bx.n - Y_k by.n] / (a.n) for a face pose (C, n). The normal must
/// lean less than 90 degrees from the axis.
Heights heights_from_pose(const Bracket& bracket, const FacePose& pose);

/// Slopes (alpha, beta) of a normal in the bracket's frame.
base::Vec2 slopes_of_normal(const Bracket& bracket, const base::Vec3& normal);

/// The pose with each screw moved by `displacement_m` from where it stands at `nominal`.
FacePose displaced_pose(const Bracket& bracket, const FacePose& nominal,
                        const std::array<double, 3>& displacement_m);

/// Millimetre-per-turn rule of the trade, in metres: movement toward the sun for one clockwise
/// turn as seen by the person, who stands on the side the screw is turned from.
/// g = hand * view * carry * pitch (see DEVELOPERS.md, "Which way a screw moves its corner").
double rise_per_turn_m(const dish::Adjuster& adjuster);

}  // namespace adjusters
