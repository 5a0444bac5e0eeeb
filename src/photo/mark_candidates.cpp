// Reads marks out of the tree of pieces.
#include "photo/mark_candidates.h"

#include <cmath>
#include <optional>

#include "base/units.h"

namespace photo {
namespace {

using base::Vec2;

constexpr std::int64_t k_least_area_px = 40;
constexpr double k_longest_shape = 2.5;
constexpr double k_speck = 0.03;  ///< of what surrounds it: a piece below is dirt or noise

struct Shape {
  Vec2 centre{0.0, 0.0};
  base::Mat2 spread{1.0};
  double area = 0.0;
};

Shape shape_of(const PixelSums& sums) {
  const auto n = static_cast<double>(sums.count);
  const double x = static_cast<double>(sums.x) / n;
  const double y = static_cast<double>(sums.y) / n;
  // A pixel is a square with second moments of its own.
  const double xx = static_cast<double>(sums.xx) / n - x * x + 1.0 / 12.0;
  const double yy = static_cast<double>(sums.yy) / n - y * y + 1.0 / 12.0;
  const double xy = static_cast<double>(sums.xy) / n - x * y;
  return {.centre = {x + 0.5, y + 0.5}, .spread = {xx, xy, xy, yy}, .area = n};
}

/// Area over that of the ellipse with the same second moments: 1 for ellipses, 0.955 for squares.
bool is_ellipse(const Shape& shape) {
  const double root = std::sqrt(glm::determinant(shape.spread));
  const double fill = shape.area / (4.0 * base::k_pi * root);
  const double trace = shape.spread[0][0] + shape.spread[1][1];
  // Squared axes a, b have a + b = trace and sqrt(a b) = root.
  const double ratio = trace / root;
  return fill > (shape.area > 300.0 ? 0.965 : 0.94) && fill < 1.03 &&
         ratio < k_longest_shape + 1.0 / k_longest_shape;
}

/// The pieces right inside each piece.
class Inside {
 public:
  explicit Inside(const Components& components)
      : pieces_(components.all), first_(pieces_.size(), -1), next_(pieces_.size(), -1) {
    for (std::size_t k = pieces_.size(); k-- > 0;) {
      const int parent = pieces_[k].parent;
      if (parent < 0) continue;
      next_[k] = first_[static_cast<std::size_t>(parent)];
      first_[static_cast<std::size_t>(parent)] = static_cast<int>(k);
    }
  }

  /// Pieces in `piece` that are more than specks: -1 none, -2 several, else the one.
  [[nodiscard]] int only(int piece) const {
    const auto outer = static_cast<double>(pieces_[static_cast<std::size_t>(piece)].filled.count);
    int found = -1;
    for (int k = first_[static_cast<std::size_t>(piece)]; k >= 0;
         k = next_[static_cast<std::size_t>(k)]) {
      const auto inner = static_cast<double>(pieces_[static_cast<std::size_t>(k)].filled.count);
      if (inner < k_speck * outer) continue;
      if (found >= 0) return -2;
      found = k;
    }
    return found;
  }

 private:
  const std::vector<Component>& pieces_;
  std::vector<int> first_;
  std::vector<int> next_;
};

bool within(double value, double least, double most) { return value >= least && value <= most; }

/// Which mark the nested shapes are, from the outside. Blur and a threshold off the middle change
/// each radius by a share of the line's width, so the ranges are wide; kinds differ in number.
std::optional<MarkKind> kind_of(const std::vector<Shape>& nested) {
  const auto share = [&](std::size_t k) { return nested[k].area / nested[k - 1].area; };
  if (nested.size() == 2 && within(share(1), 0.15, 0.56)) return MarkKind::ring;
  if (nested.size() == 3 && within(share(1), 0.25, 0.75) && within(share(2), 0.08, 0.66)) {
    return MarkKind::eye;
  }
  if (nested.size() == 4 && within(share(1), 0.35, 0.8) && within(share(2), 0.2, 0.85) &&
      within(share(3), 0.03, 0.5)) {
    return MarkKind::target;
  }
  return std::nullopt;
}

std::optional<Candidate> candidate_of(const Components& components, const Inside& inside, int piece,
                                      std::vector<char>& taken) {
  std::vector<Shape> nested;
  std::vector<int> members;
  for (int k = piece; k >= 0 && nested.size() < 5; k = inside.only(k)) {
    nested.push_back(shape_of(components.all[static_cast<std::size_t>(k)].filled));
    members.push_back(k);
  }
  if (nested.size() < 2 || inside.only(members.back()) == -2) return std::nullopt;
  const Shape& outline = nested.front();
  if (!is_ellipse(outline)) return std::nullopt;
  const auto kind = kind_of(nested);
  if (!kind) return std::nullopt;
  const Candidate candidate{outline.centre, outline.spread, outline.area, *kind};
  const double one_px = 1.0 / std::sqrt(outline.area);
  for (const Shape& shape : nested) {
    const double off = in_radii(candidate, shape.centre - outline.centre);
    if (off > 0.06 + 0.5 * one_px) return std::nullopt;
  }
  for (const int member : members) taken[static_cast<std::size_t>(member)] = 1;
  return candidate;
}

}  // namespace

double in_radii(const Candidate& candidate, const Vec2& displacement) {
  const double squared = glm::dot(displacement, glm::inverse(candidate.spread) * displacement);
  return 0.5 * std::sqrt(std::max(squared, 0.0));
}

std::vector<Candidate> candidates_in(const Components& components) {
  const Inside inside(components);
  std::vector<char> taken(components.all.size(), 0);
  std::vector<Candidate> found;
  for (std::size_t k = 0; k < components.all.size(); ++k) {
    const Component& piece = components.all[k];
    // What reaches the picture's edge has lost a part; what stands in a mark is one of its circles.
    if (!piece.dark || taken[k] != 0 || piece.filled.count < k_least_area_px) continue;
    if (piece.parent < 0) continue;
    const auto candidate = candidate_of(components, inside, static_cast<int>(k), taken);
    if (candidate) found.push_back(*candidate);
  }
  return found;
}

void merge(std::vector<Candidate>& into, const std::vector<Candidate>& more) {
  for (const Candidate& candidate : more) {
    bool known = false;
    for (Candidate& other : into) {
      const Vec2 apart = candidate.centre - other.centre;
      if (in_radii(other, apart) > 0.5 && in_radii(candidate, apart) > 0.5) continue;
      known = true;
      if (circles_of(candidate.kind).size() > circles_of(other.kind).size()) other = candidate;
    }
    if (!known) into.push_back(candidate);
  }
}

}  // namespace photo
