// Gathers leans and heights by facet, and compares what instruments tell.
#include "align/gauged.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <string>
#include <utility>

#include "base/units.h"

namespace align {
namespace {

using base::Problem;
using base::Problems;

constexpr double k_disagree = 4.0;
constexpr double k_bracket_lie_rad = 0.005;

const char* name_of(Instrument instrument) {
  switch (instrument) {
    case Instrument::spot:
      return "spot";
    case Instrument::inclinometer:
      return "inclinometer";
    case Instrument::height_gauge:
      return "height gauge";
  }
  return "";
}

double variance_of(const Correction& correction) {
  const double lie = correction.seen_with == Instrument::height_gauge ? k_bracket_lie_rad : 0.0;
  return correction.tilt_sigma_rad * correction.tilt_sigma_rad + lie * lie;
}

bool is_surer(const Correction& a, const Correction& b) {
  const bool a_spot = a.seen_with == Instrument::spot;
  const bool b_spot = b.seen_with == Instrument::spot;
  if (a_spot != b_spot) return a_spot;
  return variance_of(a) < variance_of(b);
}

void judge_sigma(Problems& problems, const std::string& place, const std::optional<double>& sigma) {
  if (sigma && !(*sigma > 0.0 && std::isfinite(*sigma))) {
    problems.push_back({place, fmt::format("a sigma of {}", *sigma), "a sigma above zero"});
  }
}

}  // namespace

std::vector<Gauged> gauged_of(const dish::Dish& dish, const dish::Round& round) {
  std::map<dish::FacetId, ReadLeans> leans;
  std::map<dish::FacetId, GaugedHeights> heights;
  for (const dish::Lean& lean : round.leans) {
    ReadLeans& read = leans[lean.facet];
    read.elevation_rad = round.elevation_rad.value_or(0.0);
    read.leans.push_back(lean);
  }
  for (const dish::GaugeHeight& height : round.heights) {
    heights[height.facet].heights.push_back(height);
  }
  std::vector<Gauged> gauged;
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const auto lean = leans.find(dish.facets[i].id);
    if (lean != leans.end()) gauged.push_back({i, lean->second});
    const auto height = heights.find(dish.facets[i].id);
    if (height != heights.end()) gauged.push_back({i, height->second});
  }
  return gauged;
}

Problems problems_of_gauged(const dish::Dish& dish, const dish::Round& round) {
  Problems problems;
  const auto judge = [&](const dish::FacetId& facet, const char* what, bool finite,
                         const std::optional<double>& sigma) {
    const std::string place = fmt::format("{} of facet \"{}\"", what, facet.text);
    if (dish::find_facet(dish, facet) == dish::k_no_facet) {
      problems.push_back({place, "no such facet", "the name of a facet of this dish"});
    }
    if (!finite) problems.push_back({place, "a reading that is no number", "numbers"});
    judge_sigma(problems, place, sigma);
  };
  for (const dish::Lean& lean : round.leans) {
    const bool finite = std::isfinite(lean.edge_rad) && std::isfinite(lean.reading_rad) &&
                        std::isfinite(lean.reversed_rad.value_or(0.0));
    judge(lean.facet, "lean", finite, lean.sigma_rad);
  }
  for (const dish::GaugeHeight& height : round.heights) {
    const bool finite = std::isfinite(height.at_m.x) && std::isfinite(height.at_m.y) &&
                        std::isfinite(height.height_m);
    judge(height.facet, "height", finite, height.sigma_m);
  }
  if (!round.leans.empty() && !(round.elevation_rad && std::isfinite(*round.elevation_rad))) {
    problems.push_back({"round \"" + round.name + "\"", "leans without the dish's elevation",
                        "the elevation its axis had when they were read"});
  }
  return problems;
}

Correction reconciled(const std::vector<Correction>& found) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < found.size(); ++i) {
    if (is_surer(found[i], found[best])) best = i;
  }
  Correction correction = found[best];
  for (const Correction& other : found) {
    const double apart =
        std::atan2(glm::length(glm::cross(other.actual.normal, correction.actual.normal)),
                   glm::dot(other.actual.normal, correction.actual.normal));
    if (!(apart > k_disagree * std::sqrt(variance_of(other) + variance_of(correction)))) continue;
    correction.verdict = Verdict::measure_again;
    correction.verdict_text = fmt::format(
        "Its {} and its {} disagree by {:.1f} mrad. Measure again before turning.",
        name_of(correction.seen_with), name_of(other.seen_with), base::mrad_from_rad(apart));
  }
  return correction;
}

}  // namespace align
