// Labels pieces by runs: rows are cut into runs, runs that touch the row above are joined.
#include "photo/components.h"

#include <algorithm>
#include <utility>

namespace photo {
namespace {

/// Joined runs, each with the earliest one as its root.
class Joined {
 public:
  int add() {
    parent_.push_back(static_cast<int>(parent_.size()));
    return parent_.back();
  }
  int root(int k) {
    while (parent_[static_cast<std::size_t>(k)] != k) {
      int& up = parent_[static_cast<std::size_t>(k)];
      up = parent_[static_cast<std::size_t>(up)];
      k = up;
    }
    return k;
  }
  void join(int a, int b) {
    a = root(a);
    b = root(b);
    parent_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
  }

 private:
  std::vector<int> parent_;
};

PixelSums sums_of(const Run& run) {
  const std::int64_t n = run.end - run.first;
  const std::int64_t a = run.first;
  const std::int64_t y = run.y;
  const std::int64_t x = n * a + n * (n - 1) / 2;
  const std::int64_t xx = n * a * a + a * n * (n - 1) + (n - 1) * n * (2 * n - 1) / 6;
  return {.count = n, .x = x, .y = n * y, .xx = xx, .yy = n * y * y, .xy = x * y};
}

/// Joins the runs of a row with those of the row above: both have alternating tones.
void join_rows(const std::vector<Run>& runs, const std::vector<std::uint8_t>& tone,
               std::size_t above, std::size_t row, std::size_t end, Joined& joined) {
  for (std::size_t k = row; k < end; ++k) {
    const int reach = tone[k] != 0 ? 1 : 0;
    while (above < row && runs[above].end + 1 <= runs[k].first) ++above;
    for (std::size_t j = above; j < row && runs[j].first < runs[k].end + reach; ++j) {
      if (tone[j] == tone[k] && runs[j].end + reach > runs[k].first) {
        joined.join(static_cast<int>(j), static_cast<int>(k));
      }
    }
  }
}

void add_run(Component& piece, const Run& run) {
  piece.own.add(sums_of(run));
  piece.left = std::min(piece.left, run.first);
  piece.right = std::max(piece.right, run.end - 1);
  piece.top = std::min(piece.top, run.y);
  piece.bottom = std::max(piece.bottom, run.y);
}

bool at_edge(const Component& piece, int width, int height) {
  return piece.left == 0 || piece.top == 0 || piece.right == width - 1 ||
         piece.bottom == height - 1;
}

}  // namespace

void PixelSums::add(const PixelSums& other) {
  count += other.count;
  x += other.x;
  y += other.y;
  xx += other.xx;
  yy += other.yy;
  xy += other.xy;
}

Components components_of(const std::vector<std::uint8_t>& dark, int width, int height) {
  Components found;
  std::vector<std::uint8_t> tone;
  Joined joined;
  std::size_t above = 0;
  for (int y = 0; y < height; ++y) {
    const std::size_t row = found.runs.size();
    const std::uint8_t* pixels = dark.data() + static_cast<std::size_t>(y) * width;
    for (int x = 0; x < width;) {
      const bool is_dark = pixels[x] != 0;
      int end = x + 1;
      while (end < width && (pixels[end] != 0) == is_dark) ++end;
      found.runs.push_back({y, x, end, joined.add()});
      tone.push_back(is_dark ? 1 : 0);
      x = end;
    }
    join_rows(found.runs, tone, above, row, found.runs.size(), joined);
    above = row;
  }

  std::vector<int> piece_of(found.runs.size(), -1);
  for (std::size_t k = 0; k < found.runs.size(); ++k) {
    Run& run = found.runs[k];
    const auto root = static_cast<std::size_t>(joined.root(run.component));
    if (piece_of[root] < 0) {
      piece_of[root] = static_cast<int>(found.all.size());
      // The pixel to the left of a piece's first pixel belongs to what surrounds the piece.
      found.all.push_back({.dark = tone[k] != 0,
                           .parent = run.first > 0 ? found.runs[k - 1].component : -1,
                           .left = run.first,
                           .right = run.first,
                           .top = run.y,
                           .bottom = run.y});
    }
    run.component = piece_of[root];
    add_run(found.all[static_cast<std::size_t>(run.component)], run);
  }
  for (Component& piece : found.all) {
    if (at_edge(piece, width, height)) piece.parent = -1;
    piece.filled = piece.own;
  }
  for (std::size_t k = found.all.size(); k-- > 0;) {
    const int parent = found.all[k].parent;
    if (parent >= 0) found.all[static_cast<std::size_t>(parent)].filled.add(found.all[k].filled);
  }
  return found;
}

}  // namespace photo
