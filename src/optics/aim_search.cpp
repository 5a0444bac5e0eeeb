// Spots as small patches of watts that are shifted over the receiver by whole cells.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/check.h"
#include "optics/optimise.h"
#include "optics/scene.h"
#include "optics/search_figures.h"

namespace optics {
namespace {

using base::Problem;
using base::Result;
using base::Vec2;

constexpr double k_map_reach = 2.0;   ///< width of the map over the receiver's
constexpr double k_faint = 1e-5;      ///< share of a spot's highest cell that is left out
constexpr double k_strictness = 8.0;  ///< price of flux above the limit against spilled light
constexpr int k_most_sweeps = 40;
constexpr std::size_t k_most_cells = 40'000'000;  ///< of all spots together
constexpr int k_halvings = 9;                     ///< of the limit, when none is given

/// One facet's light, cut to the cells that hold it.
struct Patch {
  int column = 0;  ///< of its lower left cell, unshifted
  int row = 0;
  int columns = 0;
  int rows = 0;
  std::vector<double> watts;
  double beyond_W = 0.0;  ///< of its plane's light that the map does not hold
  bool is_held = false;
};

struct Shift {
  int x = 0;
  int y = 0;
};

/// `cells_W`: the facet's share of a map of `cells` a side; `plane_W`: all it sends to the plane.
Patch patch_of(const std::vector<double>& cells_W, double plane_W, int cells, bool is_held) {
  const double highest = *std::max_element(cells_W.begin(), cells_W.end());
  Patch patch;
  patch.is_held = is_held;
  int low_x = cells, low_y = cells, high_x = -1, high_y = -1;
  for (int row = 0; row < cells; ++row) {
    for (int column = 0; column < cells; ++column) {
      if (!(cells_W[static_cast<std::size_t>(row * cells + column)] > k_faint * highest)) continue;
      low_x = std::min(low_x, column);
      high_x = std::max(high_x, column);
      low_y = std::min(low_y, row);
      high_y = std::max(high_y, row);
    }
  }
  double held_W = 0.0;
  if (high_x >= low_x) {
    patch.column = low_x;
    patch.row = low_y;
    patch.columns = high_x - low_x + 1;
    patch.rows = high_y - low_y + 1;
    for (int row = low_y; row <= high_y; ++row) {
      for (int column = low_x; column <= high_x; ++column) {
        patch.watts.push_back(cells_W[static_cast<std::size_t>(row * cells + column)]);
        held_W += patch.watts.back();
      }
    }
  }
  patch.beyond_W = std::max(plane_W - held_W, 0.0);
  return patch;
}

/// All patches on one map, and the price of where they lie.
class Board {
 public:
  Board(std::vector<Patch> patches, std::vector<double> mask, int cells, double cell_m2)
      : patches_(std::move(patches)),
        mask_(std::move(mask)),
        cells_(cells),
        cell_m2_(cell_m2),
        total_(mask_.size(), 0.0),
        shifts_(patches_.size()) {
    for (std::size_t k = 0; k < patches_.size(); ++k) lay(k, 1.0);
  }

  /// Forgets all moves.
  void reset() {
    std::fill(total_.begin(), total_.end(), 0.0);
    for (std::size_t k = 0; k < patches_.size(); ++k) {
      shifts_[k] = {};
      lay(k, 1.0);
    }
  }

  /// Moves one patch at a time to the cheapest of the places around it, in ever smaller steps,
  /// until none moves. False when cancelled.
  bool settle(double limit_W_m2, int first_step, const base::Progress& progress) {
    limit_W_ = limit_W_m2 * cell_m2_;
    for (int step = std::max(first_step, 1); step >= 1; step /= 2) {
      for (int sweep = 0; sweep < k_most_sweeps; ++sweep) {
        if (progress.cancelled()) return false;
        bool any = false;
        for (std::size_t k = 0; k < patches_.size(); ++k) any = improve(k, step) || any;
        if (!any) break;
      }
    }
    return true;
  }

  [[nodiscard]] double most_flux() const {
    double most = 0.0;
    for (std::size_t k = 0; k < total_.size(); ++k) {
      if (mask_[k] > 0.0) most = std::max(most, total_[k]);
    }
    return most / cell_m2_;
  }
  [[nodiscard]] double receiver_W() const {
    double sum = 0.0;
    for (std::size_t k = 0; k < total_.size(); ++k) sum += mask_[k] * total_[k];
    return sum;
  }
  [[nodiscard]] const std::vector<Shift>& shifts() const { return shifts_; }

 private:
  template <class Visit>
  void for_cells(const Patch& patch, const Shift& shift, Visit visit) const {
    std::size_t at = 0;
    for (int row = 0; row < patch.rows; ++row) {
      const int y = patch.row + row + shift.y;
      for (int column = 0; column < patch.columns; ++column, ++at) {
        const int x = patch.column + column + shift.x;
        if (x < 0 || x >= cells_ || y < 0 || y >= cells_) continue;
        visit(static_cast<std::size_t>(y * cells_ + x), patch.watts[at]);
      }
    }
  }

  void lay(std::size_t k, double sign) {
    for_cells(patches_[k], shifts_[k],
              [&](std::size_t cell, double watts) { total_[cell] += sign * watts; });
  }

  /// Of light above the limit, in units of the limit.
  [[nodiscard]] double excess(double watts) const {
    const double over = watts / limit_W_ - 1.0;
    return over > 0.0 ? k_strictness * over * over : 0.0;
  }

  /// What laying the patch here adds to the price: more excess, less light on the receiver.
  [[nodiscard]] double price(const Patch& patch, const Shift& shift) const {
    double sum = 0.0;
    for_cells(patch, shift, [&](std::size_t cell, double watts) {
      const double mask = mask_[cell];
      if (!(mask > 0.0)) return;
      const double before = total_[cell];
      sum += excess(before + watts) - excess(before) - mask * watts / limit_W_;
    });
    return sum;
  }

  bool improve(std::size_t k, int step) {
    const Patch& patch = patches_[k];
    if (patch.is_held || patch.watts.empty()) return false;
    lay(k, -1.0);
    const Shift here = shifts_[k];
    Shift best = here;
    // A move must pay more than rounding, or patches of the same price would wander for ever.
    double least = price(patch, here) - 1e-9;
    for (int way = 0; way < 9; ++way) {
      const Shift there{here.x + step * (way % 3 - 1), here.y + step * (way / 3 - 1)};
      if (way == 4 || !is_allowed(there)) continue;
      const double there_price = price(patch, there);
      if (there_price < least) {
        least = there_price;
        best = there;
      }
    }
    shifts_[k] = best;
    lay(k, 1.0);
    return best.x != here.x || best.y != here.y;
  }

  /// No aim goes further than half the receiver from where it was.
  [[nodiscard]] bool is_allowed(const Shift& shift) const {
    const int most = static_cast<int>(cells_ / (2.0 * k_map_reach));
    return std::abs(shift.x) <= most && std::abs(shift.y) <= most;
  }

  std::vector<Patch> patches_;
  std::vector<double> mask_;
  int cells_;
  double cell_m2_;
  double limit_W_ = 1.0;
  std::vector<double> total_;
  std::vector<Shift> shifts_;
};

/// One evaluation of the dish with the patches it gives.
struct Round {
  LiveState light;
  SearchFigures figures;
  int cells = 0;
  double width_m = 0.0;
};

class AimSearch {
 public:
  AimSearch(const dish::Dish& dish, const AimSettings& settings, const base::Progress& progress)
      : settings_(settings), progress_(progress) {
    const double per_facet = static_cast<double>(k_most_cells) /
                             static_cast<double>(std::max<std::size_t>(dish.facets.size(), 1));
    const double wanted =
        std::clamp(std::min(k_map_reach * settings.map_cells, std::sqrt(per_facet)), 16.0, 512.0);
    cells_ = 4 * static_cast<int>(wanted / 4.0);  // an evaluation's map has a multiple of four
  }

  Result<Round> evaluated(const dish::Dish& dish) const {
    Round round{.cells = cells_, .width_m = k_map_reach * receiver_width(dish.receiver)};
    auto light = evaluate(dish, {.tracking_error_rad = settings_.tracking_error_rad,
                                 .map_cells = cells_,
                                 .map_width_m = round.width_m});
    if (!light) return light.problems();
    round.light = std::move(light).value();
    round.figures = search_figures(round.light);
    return round;
  }

  [[nodiscard]] Board board_of(const dish::Dish& dish, const Round& round) const {
    std::vector<Patch> patches;
    for (std::size_t k = 0; k < dish.facets.size(); ++k) {
      patches.push_back(patch_of(facet_map_W(round.light, k), round.light.spots[k].plane_W, cells_,
                                 dish.facets[k].normal.has_value()));
    }
    const double cell = round.width_m / cells_;
    return {std::move(patches), receiver_mask(round.light.scene->receiver, cells_, round.width_m),
            cells_, cell * cell};
  }

  [[nodiscard]] int first_step() const { return static_cast<int>(cells_ / (4.0 * k_map_reach)); }

  /// The least limit that the patches can keep without giving up too much; nothing: cancelled.
  std::optional<double> least_limit(Board& board, const Round& start) const {
    const double most_lost = settings_.most_loss * start.figures.receiver_W;
    double high = board.most_flux();
    double low =
        start.figures.uniformity * start.figures.most_flux_W_m2 * (1.0 - settings_.most_loss);
    for (int step = 0; step < k_halvings && high > 1.005 * low; ++step) {
      const double middle = std::sqrt(low * high);
      board.reset();
      const double before_W = board.receiver_W();
      if (!board.settle(middle, first_step(), progress_)) return std::nullopt;
      const bool kept =
          board.most_flux() <= 1.01 * middle && board.receiver_W() >= before_W - most_lost;
      (kept ? high : low) = middle;
      progress_.tell(0.1 + 0.5 * (step + 1) / k_halvings);
    }
    return high;
  }

 private:
  const AimSettings& settings_;
  const base::Progress& progress_;
  int cells_ = 96;
};

void move_aims(dish::Dish& dish, const Board& board, double cell_m) {
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const Shift& shift = board.shifts()[k];
    dish.facets[k].aim_m += cell_m * Vec2(shift.x, shift.y);
  }
}

base::Problems problems_of(const AimSettings& settings) {
  base::Problems problems;
  if (settings.limit_W_m2 && !(*settings.limit_W_m2 > 0.0 && std::isfinite(*settings.limit_W_m2))) {
    problems.push_back(
        {"limit_W_m2", fmt::format("{}", *settings.limit_W_m2), "a flux above zero"});
  }
  if (!(settings.most_loss >= 0.0 && settings.most_loss <= 0.5)) {
    problems.push_back({"most_loss", fmt::format("{}", settings.most_loss), "0 to 0.5"});
  }
  if (settings.map_cells < 16 || settings.map_cells > 128) {
    problems.push_back({"map_cells", fmt::format("{}", settings.map_cells), "16 to 128"});
  }
  if (settings.rounds < 1 || settings.rounds > 10) {
    problems.push_back({"rounds", fmt::format("{}", settings.rounds), "1 to 10"});
  }
  return problems;
}

/// A facet whose spot alone is above the limit: no aims can help.
base::Problems too_bright_alone(const Round& round, const dish::Dish& dish, double limit_W_m2) {
  const double cell = round.width_m / round.cells;
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    const std::vector<double> cells = facet_map_W(round.light, k);
    const double most = *std::max_element(cells.begin(), cells.end()) / (cell * cell);
    if (most <= limit_W_m2) continue;
    return {
        {"limit_W_m2", fmt::format("{:.0f}", limit_W_m2),
         fmt::format("at least {:.0f}, which the spot of facet {} has by itself: flatter facets "
                     "would spread it",
                     std::ceil(most), dish.facets[k].id.text)}};
  }
  return {};
}

bool is_better(const SearchFigures& a, const SearchFigures& b, double limit) {
  const bool a_within = a.most_flux_W_m2 <= limit;
  const bool b_within = b.most_flux_W_m2 <= limit;
  if (a_within != b_within) return a_within;
  return a_within ? a.receiver_W > b.receiver_W : a.most_flux_W_m2 < b.most_flux_W_m2;
}

}  // namespace

Result<AimResult> flatten_flux(const dish::Dish& dish, const AimSettings& settings,
                               const base::Progress& progress) {
  if (base::Problems problems = problems_of(settings); !problems.empty()) return problems;
  const AimSearch search(dish, settings, progress);
  auto start = search.evaluated(dish);
  if (!start) return start.problems();
  const SearchFigures before = start.value().figures;
  if (!(before.receiver_W > 0.0)) {
    return Problem{"receiver", "no light reaches it", "a dish whose light can be moved over it"};
  }
  const double mean = before.uniformity * before.most_flux_W_m2;
  if (settings.limit_W_m2 && *settings.limit_W_m2 < mean) {
    return Problem{"limit_W_m2", fmt::format("{:.0f}", *settings.limit_W_m2),
                   fmt::format("at least {:.0f}, the receiver's mean flux: no aims can go below it",
                               std::ceil(mean))};
  }
  if (settings.limit_W_m2) {
    base::Problems problems = too_bright_alone(start.value(), dish, *settings.limit_W_m2);
    if (!problems.empty()) return problems;
  }
  AimResult result{.dish = dish, .before = before, .after = before};
  for (const dish::Facet& facet : dish.facets) result.held += facet.normal ? 1 : 0;
  Board board = search.board_of(dish, start.value());
  progress.tell(0.1);
  const auto limit =
      settings.limit_W_m2 ? settings.limit_W_m2 : search.least_limit(board, start.value());
  if (!limit) return search_cancelled();
  result.limit_W_m2 = *limit;

  // What the patches promise and what the moved dish does differ a little: each round starts from
  // the evaluated dish and aims below the limit by what the last one was above it.
  double target = *limit;
  Round now = std::move(start).value();
  dish::Dish moved = dish;
  for (int round = 0; round < settings.rounds; ++round) {
    if (round > 0) board = search.board_of(moved, now);
    board.reset();
    if (!board.settle(target, round == 0 ? search.first_step() : 2, progress))
      return search_cancelled();
    move_aims(moved, board, now.width_m / now.cells);
    auto next = search.evaluated(moved);
    if (!next) return next.problems();
    now = std::move(next).value();
    if (is_better(now.figures, result.after, *limit)) {
      result.after = now.figures;
      result.dish = moved;
    }
    target *= std::clamp(*limit / now.figures.most_flux_W_m2, 0.9, 1.0);
    progress.tell(0.6 + 0.4 * (round + 1) / settings.rounds);
  }
  if (!settings.limit_W_m2) result.limit_W_m2 = std::max(*limit, result.after.most_flux_W_m2);
  result.is_within_limit = result.after.most_flux_W_m2 <= result.limit_W_m2;
  for (const dish::Facet& facet : result.dish.facets) result.aim_m.push_back(facet.aim_m);
  return result;
}

}  // namespace optics
