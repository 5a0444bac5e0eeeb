// Searches fours of figures for the map that explains most marks.
#include "photo/mark_match.h"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "base/units.h"
#include "photo/homography.h"

namespace photo {
namespace {

using base::Vec2;
using Four = std::array<std::size_t, 4>;

constexpr std::size_t k_most_figures = 60;
constexpr int k_most_tries = 400'000;
constexpr double k_pair_slack = 1.5;
constexpr double k_area_slack = 2.0;
constexpr double k_reach_radii = 0.5;
constexpr std::size_t k_target = 0;
constexpr std::size_t k_ring = 2;

/// Fours with the target or the ring in which no three marks lie on a side, the corners first.
std::vector<Four> fours() {
  std::vector<Four> list{{0, 2, 4, 6}};
  for (unsigned bits = 1; bits < 256; ++bits) {
    Four four{};
    std::size_t count = 0;
    for (std::size_t mark = 0; mark < k_marks; ++mark) {
      if ((bits >> mark & 1u) == 0) continue;
      if (count < 4) four[count] = mark;
      ++count;
    }
    bool in_line = false;
    for (const unsigned side : {0b111u, 0b11100u, 0b1110000u, 0b11000001u}) {
      in_line = in_line || (bits & side) == side;
    }
    const bool differs = (bits & (1u << k_target | 1u << k_ring)) != 0;
    if (count == 4 && !in_line && differs && bits != 0b1010101u) list.push_back(four);
  }
  return list;
}

struct Scored {
  MarkMatch match;
  int differing = 0;
  double misfit = 0.0;

  [[nodiscard]] std::tuple<int, int, bool, double> rank() const {
    return {match.found, differing, !match.mirrored, -misfit};
  }
};

class Search {
 public:
  Search(const std::vector<Candidate>& figures, const Board& board, bool closed_target)
      : figures_(figures),
        marks_(marks_of(board)),
        radius_m_(0.5 * board.mark_m),
        closed_target_(closed_target),
        apart_(figures.size() * figures.size()) {
    for (std::size_t i = 0; i < figures.size(); ++i) {
      for (std::size_t j = 0; j < figures.size(); ++j) {
        const Vec2 way = figures[j].centre - figures[i].centre;
        apart_[i * figures.size() + j] =
            std::sqrt(in_radii(figures[i], way) * in_radii(figures[j], way));
      }
    }
  }

  std::optional<Scored> run() {
    for (const Four& four : fours()) {
      Four chosen{};
      extend(four, chosen, 0);
      if (best_ && best_->match.found == static_cast<int>(k_marks)) break;
    }
    return best_;
  }

 private:
  [[nodiscard]] bool suits(std::size_t mark, const Candidate& figure) const {
    if (figure.kind == marks_[mark].kind) return true;
    return closed_target_ && mark == k_target && figure.kind == MarkKind::eye;
  }

  [[nodiscard]] bool pair_suits(const Four& four, const Four& chosen, std::size_t i,
                                std::size_t j) const {
    const double board =
        glm::distance(marks_[four[i]].place_m, marks_[four[j]].place_m) / radius_m_;
    const double seen = apart_[chosen[i] * figures_.size() + chosen[j]];
    return seen < k_pair_slack * board && board < k_pair_slack * seen;
  }

  void extend(const Four& four, Four& chosen, std::size_t count) {
    if (count == 4) return weigh(four, chosen);
    for (std::size_t k = 0; k < figures_.size() && tries_ < k_most_tries; ++k) {
      ++tries_;
      if (!suits(four[count], figures_[k])) continue;
      chosen[count] = k;
      bool fits = true;
      for (std::size_t j = 0; j < count && fits; ++j) {
        fits = chosen[j] != k && pair_suits(four, chosen, j, count);
      }
      if (fits) extend(four, chosen, count + 1);
    }
  }

  void weigh(const Four& four, const Four& chosen) {
    std::array<Vec2, 4> from{};
    std::array<Vec2, 4> to{};
    for (std::size_t k = 0; k < 4; ++k) {
      from[k] = marks_[four[k]].place_m;
      to[k] = figures_[chosen[k]].centre;
    }
    const auto map = map_through_four(from, to);
    if (!map) return;
    const Scored scored = explained(*map);
    if (scored.match.found < 4 || scored.differing == 0) return;
    if (!best_ || scored.rank() > best_->rank()) best_ = scored;
  }

  [[nodiscard]] Scored explained(const base::Mat3& map) const {
    Scored scored;
    scored.match.candidate.fill(-1);
    const double size = glm::determinant(map);
    // Right and up on the board, right and down in the picture: an honest view turns over once.
    scored.match.mirrored = size > 0.0;
    for (std::size_t mark = 0; mark < k_marks; ++mark) {
      const auto place = mapped(map, marks_[mark].place_m);
      if (!place) continue;
      const double weight = (map * base::Vec3(marks_[mark].place_m, 1.0)).z;
      const double area =
          std::abs(size) / (weight * weight * weight) * base::k_pi * radius_m_ * radius_m_;
      double nearest = k_reach_radii;
      for (std::size_t k = 0; k < figures_.size(); ++k) {
        const Candidate& figure = figures_[k];
        if (!suits(mark, figure)) continue;
        if (figure.area > k_area_slack * area || area > k_area_slack * figure.area) continue;
        const double off = in_radii(figure, *place - figure.centre);
        if (off >= nearest) continue;
        nearest = off;
        scored.match.candidate[mark] = static_cast<int>(k);
      }
      const int found = scored.match.candidate[mark];
      if (found < 0) continue;
      ++scored.match.found;
      scored.misfit += nearest;
      const bool exact = figures_[static_cast<std::size_t>(found)].kind == marks_[mark].kind;
      if (exact && marks_[mark].kind != MarkKind::eye) ++scored.differing;
    }
    return scored;
  }

  const std::vector<Candidate>& figures_;
  std::array<BoardMark, k_marks> marks_;
  double radius_m_;
  bool closed_target_;  ///< blur may have filled the target's white middle: it reads as an eye
  std::vector<double> apart_;
  int tries_ = 0;
  std::optional<Scored> best_;
};

}  // namespace

std::optional<MarkMatch> match_marks(const std::vector<Candidate>& candidates, const Board& board) {
  std::vector<std::size_t> order(candidates.size());
  for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return candidates[a].area > candidates[b].area;
  });
  order.resize(std::min(order.size(), k_most_figures));
  std::vector<Candidate> figures;
  for (const std::size_t k : order) figures.push_back(candidates[k]);

  auto best = Search(figures, board, false).run();
  if (!best || best->match.found < static_cast<int>(k_marks)) {
    const auto blurred = Search(figures, board, true).run();
    if (blurred && (!best || blurred->rank() > best->rank())) best = blurred;
  }
  if (!best) return std::nullopt;
  for (int& candidate : best->match.candidate) {
    if (candidate >= 0) candidate = static_cast<int>(order[static_cast<std::size_t>(candidate)]);
  }
  return best->match;
}

}  // namespace photo
