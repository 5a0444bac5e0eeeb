// Each convention's optimum, then what travel and springs leave of it.
#include "align/piston.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/check.h"

namespace align {
namespace {

constexpr double k_met_m = 1e-9;  ///< a wish missed by less than this is met

using Triple = std::array<double, 3>;

/// Least total turns: the optimum of a sum of weighted distances is at one of its corners.
double least_total(const Triple& d, const Triple& lead) {
  double best = 0.0;
  double least = -1.0;
  for (const double held : d) {
    double total = 0.0;
    for (std::size_t k = 0; k < 3; ++k) total += std::abs(d[k] - held) / lead[k];
    if (least < 0.0 || total < least - 1e-15) {
      least = total;
      best = -held;
    }
  }
  return best;
}

/// Least largest turn: at the optimum two screws turn equally far in opposite senses.
double least_maximum(const Triple& d, const Triple& lead) {
  double best = 0.0;
  double least = -1.0;
  for (std::size_t i = 0; i < 3; ++i) {
    const std::size_t j = (i + 1) % 3;
    const double c = -(d[i] * lead[j] + d[j] * lead[i]) / (lead[i] + lead[j]);
    double most = 0.0;
    for (std::size_t k = 0; k < 3; ++k) most = std::max(most, std::abs(d[k] + c) / lead[k]);
    if (least < 0.0 || most < least - 1e-15) {
      least = most;
      best = c;
    }
  }
  return best;
}

double least_square_sum(const Triple& d, const Triple& lead) {
  double weighted = 0.0;
  double weights = 0.0;
  for (std::size_t k = 0; k < 3; ++k) {
    weighted += d[k] / (lead[k] * lead[k]);
    weights += 1.0 / (lead[k] * lead[k]);
  }
  return -weighted / weights;
}

/// Centre of how far the screws would stand from the middle of their ranges.
double middle(const PistonQuestion& question) {
  Triple off{};
  for (std::size_t k = 0; k < 3; ++k) {
    off[k] = question.now_m[k] + question.rise_m[k] -
             0.5 * (question.range[k].least + question.range[k].most);
  }
  const auto [least, most] = std::minmax_element(off.begin(), off.end());
  return -0.5 * (*least + *most);
}

double wish(const PistonQuestion& question) {
  const Triple& d = question.rise_m;
  switch (question.piston) {
    case Piston::keep_height:
      return 0.0;
    case Piston::hold_screw:
      return -d[question.held];
    case Piston::fewest_turns:
      return least_total(d, question.lead_m);
    case Piston::least_largest_turn:
      return least_maximum(d, question.lead_m);
    case Piston::least_squares:
      return least_square_sum(d, question.lead_m);
    case Piston::tighten_only:
      return question.loading < 0 ? -*std::max_element(d.begin(), d.end())
                                  : -*std::min_element(d.begin(), d.end());
    case Piston::mid_range:
      return middle(question);
  }
  return 0.0;
}

/// The feasible interval of c, and which screw sets each end.
struct Limits {
  adjusters::Interval interval;
  std::size_t least_by = 0;
  std::size_t most_by = 0;
};

Limits limits_of(const PistonQuestion& question) {
  Limits limits;
  for (std::size_t k = 0; k < 3; ++k) {
    const double at = question.now_m[k] + question.rise_m[k];
    const double least = question.range[k].least - at;
    const double most = question.range[k].most - at;
    if (k == 0 || least > limits.interval.least) {
      limits.interval.least = least;
      limits.least_by = k;
    }
    if (k == 0 || most < limits.interval.most) {
      limits.interval.most = most;
      limits.most_by = k;
    }
  }
  return limits;
}

std::string infeasible_text(const PistonQuestion& question, const Limits& limits) {
  const double missing_mm = (limits.interval.least - limits.interval.most) * 1e3;
  if (limits.least_by == limits.most_by) {
    return fmt::format("Screw {} has no range: its travel and its spring leave a gap of {:.2f} mm.",
                       question.labels[limits.least_by], missing_mm);
  }
  return fmt::format(
      "Screws {} and {} lack {:.2f} mm of range between them for this tilt; both are taken half "
      "of it too far.",
      question.labels[limits.least_by], question.labels[limits.most_by], missing_mm);
}

const char* wish_text(Piston piston) {
  switch (piston) {
    case Piston::keep_height:
      return "The facet's height cannot be kept";
    case Piston::hold_screw:
      return "";
    case Piston::fewest_turns:
      return "The fewest turns cannot be had";
    case Piston::least_largest_turn:
      return "The smallest largest turn cannot be had";
    case Piston::least_squares:
      return "The least squared turns cannot be had";
    case Piston::tighten_only:
      return "The screws cannot all be only tightened";
    case Piston::mid_range:
      return "The middle of the range cannot be reached";
  }
  return "";
}

std::string clipped_text(const PistonQuestion& question, const Limits& limits, double missed_m) {
  const bool upper = missed_m > 0.0;
  const std::string start =
      question.piston == Piston::hold_screw
          ? fmt::format("Screw {} cannot be left as it is", question.labels[question.held])
          : std::string(wish_text(question.piston));
  return fmt::format("{}: screw {} would go {:.2f} mm past its range toward the {}.", start,
                     question.labels[upper ? limits.most_by : limits.least_by],
                     std::abs(missed_m) * 1e3, upper ? "sun" : "bracket");
}

}  // namespace

PistonChoice choose_piston(const PistonQuestion& question) {
  CHECK(question.held < 3, "one of three screws is held");
  for (const double lead : question.lead_m) CHECK(lead > 0.0, "a lead is above zero");
  const Limits limits = limits_of(question);
  PistonChoice choice{.wished_m = wish(question), .feasible = limits.interval};
  if (limits.interval.least > limits.interval.most) {
    choice.chosen_m = 0.5 * (limits.interval.least + limits.interval.most);
    choice.unmet = infeasible_text(question, limits);
    return choice;
  }
  choice.chosen_m = std::clamp(choice.wished_m, limits.interval.least, limits.interval.most);
  const double missed = choice.wished_m - choice.chosen_m;
  if (std::abs(missed) > k_met_m) choice.unmet = clipped_text(question, limits, missed);
  return choice;
}

}  // namespace align
