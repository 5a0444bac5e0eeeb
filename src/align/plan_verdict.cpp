// A plan as a whole: how far off the dish is, how far it will be, and whether turning is worth it.
#include "align/plan_verdict.h"

#include <fmt/format.h>

#include <cmath>

#include "base/units.h"

namespace align {
namespace {

/// Share of facets worth turning below which another round brings little.
constexpr double k_stop_share = 0.1;

}  // namespace

void sum_up(Plan& plan) {
  double tilt = 0.0;
  double residual = 0.0;
  double expected = 0.0;
  for (const Correction& correction : plan.facets) {
    const double now = glm::length(correction.tilt_error_rad);
    const bool turn = correction.verdict == Verdict::turn;
    const double left = turn ? correction.residual_rad : now;
    const double likely = turn ? correction.expected_rad : now;
    tilt += now * now;
    residual += left * left;
    expected += likely * likely;
    plan.to_turn += turn ? 1 : 0;
  }
  const std::size_t count = plan.facets.size();
  if (count == 0) {
    plan.verdict = "No facet could be worked out; see the problems.";
    return;
  }
  const auto rms = [&](double squares) { return std::sqrt(squares / static_cast<double>(count)); };
  plan.rms_tilt_rad = rms(tilt);
  plan.rms_residual_rad = rms(residual);
  plan.expected_rms_rad = rms(expected);
  const double now_mrad = base::mrad_from_rad(plan.rms_tilt_rad);
  if (plan.to_turn == 0) {
    plan.verdict =
        fmt::format("Stop: no facet is worth turning. {:.1f} mrad rms is left.", now_mrad);
  } else if (static_cast<double>(plan.to_turn) < k_stop_share * static_cast<double>(count)) {
    plan.verdict = fmt::format(
        "Nearly done: only {} of {} facets are worth turning. {:.1f} mrad rms now, about {:.1f} "
        "after them; a further round brings little.",
        plan.to_turn, count, now_mrad, base::mrad_from_rad(plan.expected_rms_rad));
  } else {
    plan.verdict =
        fmt::format("Turn {} of {} facets: from {:.1f} to about {:.1f} mrad rms.", plan.to_turn,
                    count, now_mrad, base::mrad_from_rad(plan.expected_rms_rad));
  }
}

}  // namespace align
