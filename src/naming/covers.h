// Which facets to uncover together: groups whose members lie far apart, so that their spots do.
#pragma once

#include <cstddef>
#include <vector>

#include "base/vec.h"

namespace naming {

enum class Lattice { none, hexagonal, square };

/// How facets lie: all on one lattice (to 0.15 of its pitch), with whole coordinates, or not.
struct LatticePlaces {
  Lattice lattice = Lattice::none;
  double pitch_m = 0.0;  ///< least distance between two places
  std::vector<int> q;    ///< along the lattice's first direction
  std::vector<int> r;    ///< along the second, 60 or 90 degrees further
};

/// `places_m`: (x, y) of the facets' centres, no two alike.
LatticePlaces lattice_of(const std::vector<base::Vec2>& places_m);

struct Cover {
  std::vector<std::size_t> group_of;  ///< of each place
  std::size_t groups = 1;
  double pitch_gain = 1.0;  ///< least distance within a group over the least of all
  bool is_lattice = false;  ///< a colouring of the lattice, the best there is
};

/// Places in `groups` groups. On lattices: hexagonal in 3 (q - r mod 3), 4 (parities), 7
/// (q + 3 r mod 7), which gain sqrt 3, 2, sqrt 7; square in 2 (chequered), 4 (parities), 5
/// (q + 2 r mod 5), 9 (q and r mod 3), which gain sqrt 2, 2, sqrt 5, 3. Source: sublattices of
/// least index, derived. Otherwise one place after another goes where its nearest fellow is
/// farthest.
Cover cover_in(const std::vector<base::Vec2>& places_m, std::size_t groups);

/// Numbers of groups worth trying on this layout, 1 first, then rising.
std::vector<std::size_t> cover_counts(Lattice lattice);

/// Pairs of marks in one group that are neighbours: nearer than 1.25 times the least distance
/// within that group.
struct Neighbours {
  std::size_t pairs = 0;
  double pitch_m = 0.0;  ///< least distance within any group; 0 when every group has one member
};
Neighbours neighbours_of(const std::vector<base::Vec2>& marks_m,
                         const std::vector<std::size_t>& group_of, std::size_t groups);

/// Chance that no two neighbouring spots have changed places, exp(-pairs Q(P / (sqrt2 s))), for
/// spots that stray by s per axis. Source: derived; Q is the normal tail.
double chance_of_no_swap(const Neighbours& neighbours, double stray_m);

/// Upper tail of the standard normal distribution, absolute error below 1e-12.
double normal_tail(double x);

}  // namespace naming
