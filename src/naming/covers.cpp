// Lattices, their colourings, and the chance that neighbours swap.
#include "naming/covers.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/elementary.h"

namespace naming {
namespace {

using base::Vec2;

constexpr double k_off_lattice = 0.15;
constexpr double k_neighbour = 1.25;

double least_distance(const std::vector<Vec2>& places) {
  double least = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const double distance = glm::distance(places[i], places[j]);
      if (least == 0.0 || distance < least) least = distance;
    }
  }
  return least;
}

/// Whole coordinates of all places on the lattice with this first vector; none when one is off it.
bool lay_on(const std::vector<Vec2>& places, const Vec2& origin, const Vec2& first, Lattice lattice,
            LatticePlaces& found) {
  const double cosine = lattice == Lattice::hexagonal ? 0.5 : 0.0;
  const double sine = lattice == Lattice::hexagonal ? 0.5 * std::sqrt(3.0) : 1.0;
  const Vec2 second{cosine * first.x - sine * first.y, sine * first.x + cosine * first.y};
  const double area = base::cross(first, second);
  found.q.clear();
  found.r.clear();
  for (const Vec2& place : places) {
    const Vec2 off = place - origin;
    const double q = base::cross(off, second) / area;
    const double r = base::cross(first, off) / area;
    const double whole_q = std::floor(q + 0.5);
    const double whole_r = std::floor(r + 0.5);
    if (std::hypot(q - whole_q, r - whole_r) > k_off_lattice) return false;
    found.q.push_back(static_cast<int>(whole_q));
    found.r.push_back(static_cast<int>(whole_r));
  }
  found.lattice = lattice;
  return true;
}

std::size_t modulo(int value, int by) { return static_cast<std::size_t>(((value % by) + by) % by); }

/// Colour of a lattice place; `groups` must be one of `cover_counts`.
std::size_t colour(Lattice lattice, std::size_t groups, int q, int r) {
  if (groups == 4) return modulo(q, 2) + 2 * modulo(r, 2);
  if (lattice == Lattice::hexagonal) return groups == 3 ? modulo(q - r, 3) : modulo(q + 3 * r, 7);
  if (groups == 2) return modulo(q + r, 2);
  return groups == 5 ? modulo(q + 2 * r, 5) : modulo(q, 3) + 3 * modulo(r, 3);
}

void colour_greedily(const std::vector<Vec2>& places, Cover& cover) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    std::vector<double> nearest(cover.groups, 1e300);
    for (std::size_t j = 0; j < i; ++j) {
      double& least = nearest[cover.group_of[j]];
      least = std::min(least, glm::distance(places[i], places[j]));
    }
    cover.group_of[i] = static_cast<std::size_t>(std::max_element(nearest.begin(), nearest.end()) -
                                                 nearest.begin());
  }
}

}  // namespace

LatticePlaces lattice_of(const std::vector<Vec2>& places_m) {
  LatticePlaces found{.pitch_m = least_distance(places_m)};
  if (places_m.size() < 3) return found;
  std::size_t one = 0;
  std::size_t other = 0;
  for (std::size_t i = 0; i < places_m.size() && other == 0; ++i) {
    for (std::size_t j = i + 1; j < places_m.size() && other == 0; ++j) {
      if (glm::distance(places_m[i], places_m[j]) > found.pitch_m * (1.0 + 1e-9)) continue;
      one = i;
      other = j;
    }
  }
  const Vec2 first = places_m[other] - places_m[one];
  for (const Lattice lattice : {Lattice::hexagonal, Lattice::square}) {
    if (lay_on(places_m, places_m[one], first, lattice, found)) return found;
  }
  found.q.clear();
  found.r.clear();
  return found;
}

Cover cover_in(const std::vector<Vec2>& places_m, std::size_t groups) {
  Cover cover{.group_of = std::vector<std::size_t>(places_m.size(), 0),
              .groups = std::max<std::size_t>(groups, 1)};
  if (cover.groups == 1) return cover;
  const LatticePlaces lattice = lattice_of(places_m);
  const auto known = cover_counts(lattice.lattice);
  cover.is_lattice = lattice.lattice != Lattice::none &&
                     std::find(known.begin(), known.end(), groups) != known.end();
  if (cover.is_lattice) {
    for (std::size_t i = 0; i < places_m.size(); ++i) {
      cover.group_of[i] = colour(lattice.lattice, groups, lattice.q[i], lattice.r[i]);
    }
  } else {
    colour_greedily(places_m, cover);
  }
  const Neighbours apart = neighbours_of(places_m, cover.group_of, cover.groups);
  if (apart.pitch_m > 0.0) cover.pitch_gain = apart.pitch_m / lattice.pitch_m;
  return cover;
}

std::vector<std::size_t> cover_counts(Lattice lattice) {
  if (lattice == Lattice::square) return {1, 2, 4, 5, 9};
  return {1, 3, 4, 7};
}

Neighbours neighbours_of(const std::vector<Vec2>& marks_m, const std::vector<std::size_t>& group_of,
                         std::size_t groups) {
  Neighbours found;
  for (std::size_t g = 0; g < groups; ++g) {
    std::vector<Vec2> members;
    for (std::size_t i = 0; i < marks_m.size(); ++i) {
      if (group_of[i] == g) members.push_back(marks_m[i]);
    }
    const double least = least_distance(members);
    if (least > 0.0 && (found.pitch_m == 0.0 || least < found.pitch_m)) found.pitch_m = least;
    for (std::size_t i = 0; i < members.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        found.pairs += glm::distance(members[i], members[j]) < k_neighbour * least ? 1 : 0;
      }
    }
  }
  return found;
}

double normal_tail(double x) {
  if (x < 0.0) return 1.0 - normal_tail(-x);
  // Simpson's rule on the density; what lies further than eight from x is below 1e-15 of it.
  constexpr int k_steps = 2400;
  constexpr double k_reach = 8.5;
  constexpr double k_density = 0.3989422804014327;
  const double step = k_reach / k_steps;
  double sum = 0.0;
  for (int i = 0; i <= k_steps; ++i) {
    const double at = x + i * step;
    const double weight = i == 0 || i == k_steps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0);
    sum += weight * (at < 37.0 ? base::exp_of(-0.5 * at * at) : 0.0);
  }
  return k_density * sum * step / 3.0;
}

double chance_of_no_swap(const Neighbours& neighbours, double stray_m) {
  if (neighbours.pairs == 0 || !(stray_m > 0.0)) return 1.0;
  const double tail = normal_tail(neighbours.pitch_m / (std::sqrt(2.0) * stray_m));
  return base::exp_of(-static_cast<double>(neighbours.pairs) * tail);
}

}  // namespace naming
