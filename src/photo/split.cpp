// Splits merged spots by rising cuts and by width.
#include "photo/split.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace photo {
namespace {

using base::Vec2;

constexpr double k_least_apart = 0.4;
constexpr double k_least_half_width = 0.3;
constexpr double k_waist = 0.95;
constexpr int k_passes = 10;

/// The blob in a frame of its own, with a rim of empty cells.
struct Local {
  int width = 0;
  int height = 0;
  std::vector<float> light;  ///< 0 outside the blob
};

Local local_of(const Blob& blob) {
  Local local{.width = blob.right - blob.left + 3, .height = blob.bottom - blob.top + 3};
  local.light.assign(static_cast<std::size_t>(local.width) * static_cast<std::size_t>(local.height),
                     0.0f);
  for (const Run& run : blob.runs) {
    for (int x = run.first; x < run.end; ++x) {
      const std::size_t from =
          static_cast<std::size_t>(run.y) * static_cast<std::size_t>(blob.columns) +
          static_cast<std::size_t>(x);
      const std::size_t to =
          static_cast<std::size_t>(run.y - blob.top + 1) * static_cast<std::size_t>(local.width) +
          static_cast<std::size_t>(x - blob.left + 1);
      local.light[to] = std::max((*blob.light)[from], 1e-9f);
    }
  }
  return local;
}

/// Middles of what stands above a cut, as far as it rises high enough.
std::vector<Vec2> peaks_above(const Local& local, float cut, float rise, double least_cells) {
  std::vector<std::uint8_t> mask(local.light.size());
  for (std::size_t k = 0; k < mask.size(); ++k) mask[k] = local.light[k] >= cut ? 1 : 0;
  const Components components = components_of(mask, local.width, local.height);
  std::vector<float> highest(components.all.size(), 0.0f);
  for (const Run& run : components.runs) {
    float& top = highest[static_cast<std::size_t>(run.component)];
    for (int x = run.first; x < run.end; ++x) {
      top = std::max(
          top, local.light[static_cast<std::size_t>(run.y) * static_cast<std::size_t>(local.width) +
                           static_cast<std::size_t>(x)]);
    }
  }
  std::vector<Vec2> peaks;
  for (std::size_t k = 0; k < components.all.size(); ++k) {
    const Component& piece = components.all[k];
    const auto n = static_cast<double>(piece.own.count);
    if (!piece.dark || n < least_cells || highest[k] < cut + rise) continue;
    peaks.emplace_back(static_cast<double>(piece.own.x) / n + 0.5,
                       static_cast<double>(piece.own.y) / n + 0.5);
  }
  return peaks;
}

std::vector<Vec2> peaks_of(const Local& local, const SplitRules& rules) {
  const float peak = *std::max_element(local.light.begin(), local.light.end());
  const float rise = std::max(0.05f * peak, static_cast<float>(4.0 * rules.noise));
  const double least_cells = std::max(3.0, 0.02 * rules.spot_cells * rules.spot_cells);
  std::vector<Vec2> best;
  for (int tenth = 3; tenth <= 9; ++tenth) {
    const auto peaks =
        peaks_above(local, peak * static_cast<float>(tenth) / 10.0f, rise, least_cells);
    if (peaks.size() > best.size()) best = peaks;
  }
  return best;
}

/// Fifths of a cell to the blob's edge by steps of 5 and 7 (Borgefors 1986: 2 % off at most
/// where it matters here).
std::vector<int> distances(const Local& local) {
  constexpr int k_far = 1 << 28;
  std::vector<int> far(local.light.size());
  const int w = local.width;
  for (std::size_t k = 0; k < far.size(); ++k) far[k] = local.light[k] > 0.0f ? k_far : 0;
  const auto relax = [&](int k, int sign) {
    int& here = far[static_cast<std::size_t>(k)];
    if (here == 0) return;
    const auto at = [&](int step) { return far[static_cast<std::size_t>(k + sign * step)]; };
    here = std::min({here, at(-1) + 5, at(-w) + 5, at(-w - 1) + 7, at(-w + 1) + 7});
  };
  const int cells = static_cast<int>(far.size());
  for (int k = w + 1; k < cells - w - 1; ++k) relax(k, 1);
  for (int k = cells - w - 2; k > w; --k) relax(k, -1);
  return far;
}

/// No place within `reach` is wider: a waist is flat for some cells, so next ones do not tell.
bool is_widest(const Local& local, const std::vector<int>& far, int x, int y, int reach) {
  const int here = far[static_cast<std::size_t>(y * local.width + x)];
  for (int py = std::max(y - reach, 0); py <= std::min(y + reach, local.height - 1); ++py) {
    for (int px = std::max(x - reach, 0); px <= std::min(x + reach, local.width - 1); ++px) {
      if (far[static_cast<std::size_t>(py * local.width + px)] > here) return false;
    }
  }
  return true;
}

std::vector<Vec2> widest_of(const Local& local, const SplitRules& rules) {
  const std::vector<int> far = distances(local);
  const int w = local.width;
  const int least = static_cast<int>(5.0 * k_least_half_width * rules.spot_cells);
  const int reach = std::clamp(static_cast<int>(0.2 * rules.spot_cells), 2, 60);
  std::vector<int> order;
  for (int y = 1; y + 1 < local.height; ++y) {
    for (int x = 1; x + 1 < w; ++x) {
      if (far[static_cast<std::size_t>(y * w + x)] > least && is_widest(local, far, x, y, reach)) {
        order.push_back(y * w + x);
      }
    }
  }
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return far[static_cast<std::size_t>(a)] > far[static_cast<std::size_t>(b)];
  });
  const auto place = [w](int k) { return Vec2{k % w + 0.5, k / w + 0.5}; };
  // A waist lies between two widest places when the edge comes nearer on the straight way.
  const auto waist_between = [&](const Vec2& a, const Vec2& b, int lower) {
    for (int step = 1; step < 32; ++step) {
      const Vec2 p = a + (b - a) * (step / 32.0);
      const int there =
          far[static_cast<std::size_t>(static_cast<int>(p.y) * w + static_cast<int>(p.x))];
      if (there < k_waist * lower) return true;
    }
    return false;
  };
  std::vector<Vec2> widest;
  for (const int k : order) {
    const Vec2 here = place(k);
    bool apart = true;
    for (const Vec2& other : widest) {
      apart = apart && glm::distance(here, other) >= k_least_apart * rules.spot_cells &&
              waist_between(here, other, far[static_cast<std::size_t>(k)]);
    }
    if (apart) widest.push_back(here);
  }
  return widest;
}

std::vector<BlobPart> settled(const Local& local, std::vector<Vec2> middles, bool by_area) {
  std::vector<BlobPart> parts(middles.size());
  // A heap of many spots over a large part of the board is looked at in every so manieth row.
  const double work = static_cast<double>(local.light.size()) * static_cast<double>(middles.size());
  const int step = 1 + static_cast<int>(work / 4e6);
  for (int pass = 0; pass < k_passes; ++pass) {
    std::vector<Vec2> first(middles.size(), Vec2(0.0));
    std::vector<double> sum(middles.size(), 0.0);
    for (BlobPart& part : parts) part.area = 0.0;
    for (int y = 0; y < local.height; y += step) {
      for (int x = 0; x < local.width; ++x) {
        const float light = local.light[static_cast<std::size_t>(y * local.width + x)];
        if (light <= 0.0f) continue;
        const Vec2 here{x + 0.5, y + 0.5};
        std::size_t nearest = 0;
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t k = 0; k < middles.size(); ++k) {
          const Vec2 way = here - middles[k];
          const double far = glm::dot(way, way);
          if (far >= least) continue;
          least = far;
          nearest = k;
        }
        const double weight = by_area ? 1.0 : static_cast<double>(light);
        first[nearest] += weight * here;
        sum[nearest] += weight;
        parts[nearest].area += step;
      }
    }
    for (std::size_t k = 0; k < middles.size(); ++k) {
      if (sum[k] > 0.0) middles[k] = first[k] / sum[k];
    }
    if (middles.size() == 1) break;
  }
  for (std::size_t k = 0; k < parts.size(); ++k) parts[k].middle = middles[k];
  return parts;
}

}  // namespace

std::vector<BlobPart> parts_of(const Blob& blob, const SplitRules& rules) {
  const Local local = local_of(blob);
  std::vector<Vec2> middles;
  const auto add = [&](const std::vector<Vec2>& more) {
    for (const Vec2& place : more) {
      const bool apart = std::all_of(middles.begin(), middles.end(), [&](const Vec2& other) {
        return glm::distance(place, other) >= k_least_apart * rules.spot_cells;
      });
      if (apart) middles.push_back(place);
    }
  };
  // A blob hardly larger than one spot is one, whatever its figure.
  const double one = 0.785 * rules.spot_cells * rules.spot_cells;
  if (blob.area > 1.2 * one) {
    // Where two spots overlap they are brightest: a lone peak may stand between two widths. So
    // the search that finds more is right, and the widths among equals.
    const auto peaks = rules.by_area ? std::vector<Vec2>{} : peaks_of(local, rules);
    const auto widest = widest_of(local, rules);
    add(peaks.size() > widest.size() ? peaks : widest);
  }
  if (middles.empty()) middles.emplace_back(0.5 * local.width, 0.5 * local.height);
  std::vector<BlobPart> parts = settled(local, std::move(middles), rules.by_area);
  if (parts.size() > 1) {
    // A part that has lost its cells to its neighbours was none.
    parts.erase(std::remove_if(parts.begin(), parts.end(),
                               [&](const BlobPart& part) { return part.area < 0.1 * one; }),
                parts.end());
  }
  for (BlobPart& part : parts) part.middle += Vec2(blob.left - 1.0, blob.top - 1.0);
  return parts;
}

}  // namespace photo
