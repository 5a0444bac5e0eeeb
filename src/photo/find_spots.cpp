// From a difference of board views to a list of spots.
#include "photo/find_spots.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/units.h"
#include "photo/components.h"
#include "photo/split.h"

namespace photo {
namespace {

using base::Vec2;

constexpr double k_noise_factor = 6.0;
constexpr float k_peak_share = 0.25f;
constexpr double k_least_area_share = 0.1;
constexpr double k_saturated_share = 0.3;
constexpr double k_double_flux = 1.7;
constexpr double k_sigma_floor_cells = 0.03;

/// Binomial 1 4 6 4 1 along rows, then columns: a Gaussian of one cell.
BoardView smoothed(const BoardView& view) {
  BoardView result = view;
  std::vector<float> line;
  const auto pass = [&line](float* values, int count, std::size_t step) {
    line.resize(static_cast<std::size_t>(count) + 4);
    for (int k = -2; k < count + 2; ++k) {
      line[static_cast<std::size_t>(k + 2)] =
          values[static_cast<std::size_t>(std::clamp(k, 0, count - 1)) * step];
    }
    for (std::size_t k = 0; k < static_cast<std::size_t>(count); ++k) {
      values[k * step] =
          (line[k] + 4.0f * line[k + 1] + 6.0f * line[k + 2] + 4.0f * line[k + 3] + line[k + 4]) *
          0.0625f;
    }
  };
  for (int row = 0; row < view.rows; ++row) {
    pass(result.light.data() + result.index(0, row), view.columns, 1);
  }
  for (int column = 0; column < view.columns; ++column) {
    pass(result.light.data() + column, view.rows, static_cast<std::size_t>(view.columns));
  }
  return result;
}

/// The level that so many of the brightest cells reach.
float level_of_brightest(std::vector<float> values, double cells) {
  const auto most = static_cast<double>(values.size() - 1);
  const auto rank = static_cast<std::ptrdiff_t>(std::clamp(cells, 0.0, most));
  std::nth_element(values.begin(), values.begin() + rank, values.end(), std::greater<>());
  return values[static_cast<std::size_t>(rank)];
}

struct Blobs {
  std::vector<Blob> all;
  double threshold = 0.0;
};

Blobs blobs_above(const BoardView& smooth, double threshold) {
  std::vector<std::uint8_t> mask(smooth.cells());
  const auto least = static_cast<float>(threshold);
  for (std::size_t k = 0; k < mask.size(); ++k) mask[k] = smooth.light[k] > least ? 1 : 0;
  const Components components = components_of(mask, smooth.columns, smooth.rows);
  std::vector<int> blob_of(components.all.size(), -1);
  Blobs blobs{.threshold = threshold};
  for (std::size_t k = 0; k < components.all.size(); ++k) {
    const Component& piece = components.all[k];
    if (!piece.dark) continue;  // the mask's ones
    blob_of[k] = static_cast<int>(blobs.all.size());
    blobs.all.push_back({.light = &smooth.light,
                         .columns = smooth.columns,
                         .left = piece.left,
                         .right = piece.right,
                         .top = piece.top,
                         .bottom = piece.bottom,
                         .area = static_cast<double>(piece.own.count)});
  }
  for (const Run& run : components.runs) {
    const int blob = blob_of[static_cast<std::size_t>(run.component)];
    if (blob >= 0) blobs.all[static_cast<std::size_t>(blob)].runs.push_back(run);
  }
  return blobs;
}

double diameter_of(double area) { return std::sqrt(area * (4.0 / base::k_pi)); }

/// Expected diameter in cells from the blobs themselves: the median of those that are no specks.
double usual_diameter(const Blobs& blobs) {
  std::vector<double> areas;
  for (const Blob& blob : blobs.all) {
    if (blob.area >= 12.0) areas.push_back(blob.area);
  }
  if (areas.empty()) return 0.0;
  std::sort(areas.begin(), areas.end());
  const double largest = areas.back();
  areas.erase(areas.begin(), std::lower_bound(areas.begin(), areas.end(), 0.02 * largest));
  return diameter_of(areas[areas.size() / 2]);
}

double saturated_share(const Blob& blob, const BoardView& view) {
  double count = 0.0;
  for (const Run& run : blob.runs) {
    for (int x = run.first; x < run.end; ++x) {
      if ((view.state[view.index(x, run.y)] & k_cell_saturated) != 0) count += 1.0;
    }
  }
  return count / blob.area;
}

bool touches_outside(const Blob& blob, const BoardView& view) {
  if (blob.left == 0 || blob.top == 0 || blob.right == view.columns - 1 ||
      blob.bottom == view.rows - 1) {
    return true;
  }
  for (const Run& run : blob.runs) {
    for (const int y : {run.y - 1, run.y, run.y + 1}) {
      for (const int x : {run.first - 1, run.end}) {
        if ((view.state[view.index(x, y)] & k_outside_photo) != 0) return true;
      }
    }
  }
  return false;
}

/// A spot before it is measured.
struct Found {
  BlobPart part;
  bool merged = false;
  bool saturated = false;
  bool cut = false;
};

std::vector<Found> parts_in(const Blobs& blobs, const BoardView& difference, double spot_cells,
                            double noise) {
  std::vector<Found> found;
  const double least = k_least_area_share * base::k_pi / 4.0 * spot_cells * spot_cells;
  for (const Blob& blob : blobs.all) {
    if (blob.area < std::max(least, 4.0)) continue;
    const bool saturated = saturated_share(blob, difference) > k_saturated_share;
    // Smoothing leaves about a quarter of the noise.
    const auto parts =
        parts_of(blob, {.spot_cells = spot_cells, .noise = 0.27 * noise, .by_area = saturated});
    const bool cut = touches_outside(blob, difference);
    for (const BlobPart& part : parts) found.push_back({part, parts.size() > 1, saturated, cut});
  }
  return found;
}

bool is_on_mark(const Spot& spot, const Board& board) {
  const auto marks = marks_of(board);
  return std::any_of(marks.begin(), marks.end(), [&](const BoardMark& mark) {
    return glm::distance(mark.place_m, spot.place_m) < 0.5 * (board.mark_m + spot.longer_m);
  });
}

Spot measured(const Found& found, const std::vector<Vec2>& others, const BoardView& difference,
              const Board& board, const Rectification& view, double noise) {
  const double outline = diameter_of(found.part.area);
  const Moments moments = moments_around(difference, found.part.middle, outline, others, noise);
  Spot spot{.merged = found.merged,
            .saturated = found.saturated,
            .cut = found.cut,
            .rough_size = !moments.settled};
  const bool by_moments = moments.settled && !found.merged && !found.saturated;
  const Vec2 middle = by_moments ? moments.middle : found.part.middle;
  spot.place_m = difference.to_board(middle);
  Widths widths{.longer = outline, .shorter = outline};
  if (moments.settled) widths = widths_of(moments.xx, moments.yy, moments.xy);
  spot.longer_m = widths.longer * difference.pitch_m;
  spot.shorter_m = widths.shorter * difference.pitch_m;
  spot.longer_axis = {widths.longer_axis.x, -widths.longer_axis.y};  // rows count downward
  spot.flux = std::max(moments.sum, 0.0) * difference.pitch_m * difference.pitch_m;
  spot.on_mark = is_on_mark(spot, board);

  const double pitch = difference.pitch_m;
  double variance =
      base::square(sigma_at(view, spot.place_m)) + base::square(k_sigma_floor_cells * pitch);
  if (moments.sum > 0.0) {
    variance += base::square(pitch * noise / moments.sum) * moments.leverage;
  }
  const auto doubt = [&](bool is, double share) {
    if (is) variance += base::square(share * spot.longer_m);
  };
  doubt(spot.saturated, 0.02);
  doubt(spot.merged || spot.rough_size, 0.05);
  doubt(spot.on_mark, 0.10);
  doubt(spot.cut, 0.25);
  spot.sigma_m = std::sqrt(variance);
  return spot;
}

void share_flux(std::vector<Spot>& spots) {
  double total = 0.0;
  std::vector<double> alone;
  for (const Spot& spot : spots) {
    total += spot.flux;
    if (!spot.merged && !spot.cut) alone.push_back(spot.flux);
  }
  std::sort(alone.begin(), alone.end());
  const double usual = alone.size() >= 3 ? alone[alone.size() / 2] : 0.0;
  for (Spot& spot : spots) {
    spot.flux_share = total > 0.0 ? spot.flux / total : 0.0;
    if (usual > 0.0 && !spot.merged && spot.flux > k_double_flux * usual) {
      spot.merged = true;
      spot.sigma_m = std::sqrt(base::square(spot.sigma_m) + base::square(0.05 * spot.longer_m));
    }
  }
}

void add_notes(FoundSpots& found) {
  const auto count = [&](bool Spot::*flag) {
    return std::count_if(found.spots.begin(), found.spots.end(),
                         [flag](const Spot& spot) { return spot.*flag; });
  };
  const auto note = [&](auto number, const char* text) {
    if (number > 0) {
      found.notes.push_back(fmt::format("{} {} {}", number, number == 1 ? "spot" : "spots", text));
    }
  };
  if (found.spots.empty()) {
    found.notes.emplace_back("no spot stands out of the noise: uncover facets, or expose longer");
  }
  note(count(&Spot::merged), "merged with another, or with the light of two");
  note(count(&Spot::saturated), "at full scale: expose so that spots are at a third of it");
  note(count(&Spot::cut), "cut by the edge of the board or of the photo");
  note(count(&Spot::on_mark), "over a printed mark");
}

}  // namespace

FoundSpots find_spots(const BoardView& difference, const Board& board, const Rectification& view,
                      const SpotSearch& search) {
  FoundSpots found;
  const Level level = level_of(difference);
  BoardView smooth = smoothed(difference);
  for (float& light : smooth.light) light -= static_cast<float>(level.median);
  const double by_noise = k_noise_factor * level.sigma;
  const auto threshold = [&](double cells) {
    const float top = level_of_brightest(smooth.light, cells);
    return std::max({by_noise, static_cast<double>(k_peak_share * top), 1e-4});
  };
  double spot_cells = search.spot_m.value_or(0.0) / difference.pitch_m;
  if (spot_cells <= 0.0) {
    const Blobs first = blobs_above(smooth, threshold(0.002 * static_cast<double>(smooth.cells())));
    spot_cells = usual_diameter(first);
  }
  const double half_spot = 0.5 * base::k_pi / 4.0 * spot_cells * spot_cells;
  const Blobs blobs = blobs_above(smooth, threshold(half_spot));
  if (!search.spot_m) spot_cells = usual_diameter(blobs);

  const std::vector<Found> parts = parts_in(blobs, difference, spot_cells, level.sigma);
  for (std::size_t k = 0; k < parts.size(); ++k) {
    std::vector<Vec2> others;
    for (std::size_t j = 0; j < parts.size(); ++j) {
      if (j != k) others.push_back(parts[j].part.middle);
    }
    found.spots.push_back(measured(parts[k], others, difference, board, view, level.sigma));
  }
  share_flux(found.spots);
  std::sort(found.spots.begin(), found.spots.end(), [](const Spot& a, const Spot& b) {
    return std::pair(-a.place_m.y, a.place_m.x) < std::pair(-b.place_m.y, b.place_m.x);
  });
  found.spot_m = spot_cells * difference.pitch_m;
  found.noise = level.sigma;
  found.threshold = blobs.threshold;
  add_notes(found);
  return found;
}

PresenceScore presence_at(const BoardView& difference, const Vec2& place_m, double spot_m,
                          double usual_flux) {
  const Vec2 middle = difference.to_cell(place_m);
  const double reach = 0.75 * spot_m / difference.pitch_m;
  const auto bound = [](double value, int most) {
    return static_cast<int>(std::clamp(value, 0.0, static_cast<double>(most)));
  };
  double sum = 0.0;
  for (int row = bound(middle.y - reach, difference.rows);
       row < bound(middle.y + reach + 1.0, difference.rows); ++row) {
    for (int column = bound(middle.x - reach, difference.columns);
         column < bound(middle.x + reach + 1.0, difference.columns); ++column) {
      const Vec2 off = Vec2{column + 0.5, row + 0.5} - middle;
      if (glm::dot(off, off) <= reach * reach) {
        sum += static_cast<double>(difference.light[difference.index(column, row)]);
      }
    }
  }
  PresenceScore result;
  if (usual_flux > 0.0) result.score = sum * difference.pitch_m * difference.pitch_m / usual_flux;
  result.verdict = result.score > 0.5   ? Presence::present
                   : result.score < 0.2 ? Presence::absent
                                        : Presence::unclear;
  return result;
}

}  // namespace photo
