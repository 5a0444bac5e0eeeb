// Assigns spots to facets and says what is not sure.
#include "naming/identify.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/elementary.h"
#include "base/units.h"
#include "naming/identify_cost.h"

namespace naming {
namespace {

using base::Problems;

constexpr std::size_t k_least_for_shift = 4;
constexpr double k_least_share = 0.5;

void check_settings(const IdentifySettings& settings, Problems& problems) {
  const auto between = [&](const char* what, double value, double least, double most) {
    if (value > least && value < most) return;
    problems.push_back({what, fmt::format("{}", value), fmt::format("{} to {}", least, most)});
  };
  between("chance that a spot is found", settings.detection, 0.0, 1.0);
  between("false spots in a photograph", settings.false_spots, 0.0, 1e6);
  between("area of the board in m2", settings.board_area_m2, 0.0, 1e12);
  between("diameter of a spot in m", settings.spot_diameter_m, 0.0, 1e6);
  between("farthest common shift in m", settings.shift_range_m, -1.0, 1.0);
}

Problems check_looks(const IdentifyTarget& target, const std::vector<BoardLook>& looks) {
  Problems problems;
  if (looks.empty()) problems.push_back({"photographs", "none", "at least one"});
  for (std::size_t k = 0; k < looks.size(); ++k) {
    const std::string place = fmt::format("photograph {}", k + 1);
    std::vector<bool> is_there(target.cells.size(), false);
    for (const std::size_t c : looks[k].cells) {
      if (c >= target.cells.size() || is_there[c]) {
        problems.push_back(
            {place, fmt::format("uncovered facet {}", c), "each facet at most once"});
      } else {
        is_there[c] = true;
      }
    }
    if (looks[k].cells.empty()) problems.push_back({place, "no facet uncovered", "at least one"});
    for (const BoardSpot& spot : looks[k].spots) {
      if (std::isfinite(spot.board_m.x) && std::isfinite(spot.board_m.y) && spot.sigma_m > 0.0 &&
          std::isfinite(spot.sigma_m) && std::isfinite(spot.flux)) {
        continue;
      }
      problems.push_back({place, "a spot that is no place with a sigma", "numbers, sigma above 0"});
    }
  }
  return problems;
}

/// One look while it is worked on.
struct LookWork {
  const IdentifyTarget& target;
  const std::vector<Cell>& cells;  ///< moved by the common shift
  const BoardLook& look;
  const IdentifySettings& settings;
  std::size_t index = 0;
};

/// The facet that would rather have the spot than leave it: whose cell is nearest but for `cell`.
std::string rival_of(const LookWork& work, std::size_t cell, const BoardSpot& spot) {
  double least = 1e300;
  std::size_t rival = cell;
  for (const std::size_t c : work.look.cells) {
    const double distance2 = misfit(work.cells[c], spot, 0.0).distance2;
    if (c != cell && distance2 < least) {
      least = distance2;
      rival = c;
    }
  }
  return rival == cell ? "another facet" : work.target.names[rival];
}

std::string sentence_of(const LookWork& work, const Finding& finding) {
  const std::string& name = work.target.names[finding.cell];
  const std::string again = fmt::format("Uncover {} alone and take one more photo.", name);
  switch (finding.doubt) {
    case Doubt::none:
      return "";
    case Doubt::ambiguous:
      return fmt::format("This spot may be {}'s or {}'s. {}", name,
                         rival_of(work, finding.cell, work.look.spots[finding.spot]), again);
    case Doubt::surprising:
      return fmt::format("The spot taken for {}'s lies {:.0f} mm from where it was expected. {}",
                         name,
                         base::mm_from_m(glm::distance(work.look.spots[finding.spot].board_m,
                                                       work.cells[finding.cell].mark_m)),
                         again);
    case Doubt::merged:
      return fmt::format("{}'s spot has run together with another one. {}", name, again);
    case Doubt::missing:
      return fmt::format("No spot was found for {}. {}", name, again);
  }
  return "";
}

Doubt doubt_of(const Finding& finding, bool is_several, double rise,
               const IdentifySettings& settings) {
  if (is_several) return Doubt::merged;
  if (rise < settings.least_rise) return Doubt::ambiguous;
  const bool is_dim =
      settings.uses_flux && finding.flux_share > 0.0 && finding.flux_share < k_least_share;
  return finding.distance2 > settings.most_distance2 || is_dim ? Doubt::surprising : Doubt::none;
}

void identify_look(const LookWork& work, Identification& found) {
  const LookColumns columns = columns_of(work.look, work.settings);
  const base::CostTable table = costs_of(work.cells, work.look, columns, work.settings);
  const base::Assignment assigned = base::assign(table);
  std::vector<bool> is_taken(work.look.spots.size(), false);
  found.cost += assigned.cost;
  for (std::size_t i = 0; i < table.rows; ++i) {
    Finding finding{.cell = work.look.cells[i], .look = work.index};
    if (assigned.column_of[i] == base::k_unassigned) {
      finding.doubt = Doubt::missing;
    } else {
      finding.spot = columns.spot_of[assigned.column_of[i]];
      is_taken[finding.spot] = true;
      finding.distance2 =
          misfit(work.cells[finding.cell], work.look.spots[finding.spot], 0.0).distance2;
      finding.flux_share = columns.share_of[finding.spot];
      const double rise = base::rise_without(table, assigned, i, work.settings.most_rise);
      finding.odds = base::exp_of(rise);
      finding.doubt = doubt_of(finding, columns.copies[finding.spot] > 1, rise, work.settings);
    }
    finding.sentence = sentence_of(work, finding);
    found.findings.push_back(std::move(finding));
  }
  for (std::size_t s = 0; s < is_taken.size(); ++s) {
    if (!is_taken[s]) found.false_spots.push_back({work.index, s});
  }
}

}  // namespace

Problems problems_of_looks(const IdentifyTarget& target, const std::vector<BoardLook>& looks,
                           const IdentifySettings& settings) {
  Problems problems = check_looks(target, looks);
  check_settings(settings, problems);
  return problems;
}

base::Result<IdentifyTarget> target_of(const dish::Dish& dish, const align::Sighting& sighting,
                                       const std::vector<FacetPrior>& priors) {
  auto cells = cells_of(dish, sighting, priors);
  if (!cells) return cells.problems();
  IdentifyTarget target{.cells = std::move(cells).value(),
                        .dish_from_board = sighting.dish_from_board};
  for (const Cell& cell : target.cells) target.names.push_back(dish.facets[cell.facet].id.text);
  return target;
}

base::Result<Identification> identify(const IdentifyTarget& target,
                                      const std::vector<BoardLook>& looks,
                                      const IdentifySettings& settings) {
  Problems problems = problems_of_looks(target, looks, settings);
  if (!problems.empty()) return problems;
  Identification found;
  std::vector<Cell> cells = target.cells;
  std::size_t uncovered = 0;
  for (const BoardLook& look : looks) uncovered += look.cells.size();
  if (settings.fits_common_shift && uncovered >= k_least_for_shift &&
      target.cells.size() >= k_least_for_shift) {
    found.common = fit_shift(target, looks, settings, cells);
  }
  for (std::size_t k = 0; k < looks.size(); ++k) {
    identify_look({target, cells, looks[k], settings, k}, found);
  }
  return found;
}

std::vector<dish::Spot> spots_of(const dish::Dish& dish, const IdentifyTarget& target,
                                 const std::vector<BoardLook>& looks, const Identification& found,
                                 bool with_doubtful) {
  std::vector<const Finding*> best(target.cells.size(), nullptr);
  const auto uncovered = [&](const Finding& finding) { return looks[finding.look].cells.size(); };
  for (const Finding& finding : found.findings) {
    if (finding.doubt == Doubt::missing) continue;
    if (finding.doubt != Doubt::none && !with_doubtful) continue;
    const Finding*& held = best[finding.cell];
    if (held == nullptr || uncovered(finding) <= uncovered(*held)) held = &finding;
  }
  std::vector<dish::Spot> spots;
  for (const Finding* finding : best) {
    if (finding == nullptr) continue;
    const BoardSpot& seen = looks[finding->look].spots[finding->spot];
    const std::size_t facet = target.cells[finding->cell].facet;
    spots.push_back({dish.facets[facet].id, seen.board_m, seen.sigma_m});
  }
  return spots;
}

const char* to_text(Doubt doubt) {
  switch (doubt) {
    case Doubt::none:
      return "none";
    case Doubt::ambiguous:
      return "ambiguous";
    case Doubt::surprising:
      return "surprising";
    case Doubt::merged:
      return "merged";
    case Doubt::missing:
      return "missing";
  }
  return "";
}

}  // namespace naming
