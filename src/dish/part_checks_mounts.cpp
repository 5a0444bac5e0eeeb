// Mounts and springs: three screws that define a plane, and springs that can exist.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/units.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

using base::Problems;
using base::Vec2;
using ranges::Quantity;

Problems problems_of_screw(const Mount& mount, std::size_t screw) {
  const Adjuster& adjuster = mount.adjusters[screw];
  Judge judge(place_of_screw(mount, screw));
  judge.name("the label", adjuster.label);
  judge.number(Quantity::screw_x, adjuster.x_m);
  judge.number(Quantity::screw_y, adjuster.y_m);
  if (adjuster.pitch_m == 0.0) {
    judge.problem("pitch_mm is 0", "a lead above zero: turning this screw would move nothing");
  } else {
    judge.number(Quantity::screw_pitch, adjuster.pitch_m);
  }
  judge.number(Quantity::travel_min, adjuster.travel_min_m);
  judge.number(Quantity::travel_max, adjuster.travel_max_m);
  return judge.take();
}

void judge_labels(Judge& judge, const Mount& mount) {
  const auto& screws = mount.adjusters;
  for (std::size_t i = 0; i < screws.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (screws[i].label != screws[j].label) continue;
      judge.problem(fmt::format("two screws are labelled \"{}\"", screws[i].label),
                    "a label of its own for each screw");
      return;
    }
  }
}

/// Three screws whose triangle is flatter than a hundredth of its longest side hold no tilt.
void judge_triangle(Judge& judge, const Mount& mount) {
  constexpr double k_least_lever_share = 0.01;
  const auto seat = [&](std::size_t i) {
    return Vec2{mount.adjusters[i].x_m, mount.adjusters[i].y_m};
  };
  const Vec2 ab = seat(1) - seat(0);
  const Vec2 ac = seat(2) - seat(0);
  const double longest =
      std::max({glm::length(ab), glm::length(ac), glm::distance(seat(1), seat(2))});
  const double twice_area = std::abs(ab.x * ac.y - ab.y * ac.x);
  if (twice_area > k_least_lever_share * longest * longest) return;
  judge.problem(longest > 0.0 ? "its three screws stand in a line"
                              : "its three screws stand at the same place",
                "a triangle: screws in a line leave one tilt free");
}

}  // namespace

Problems problems_of(const Mount& mount) {
  Judge judge(place_of(mount.name));
  judge.name("the name", mount.name.text);
  judge.number(Quantity::face_offset, mount.face_offset_m);
  judge.number(Quantity::standoff, mount.standoff_m);
  judge.number(Quantity::caliper_offset, mount.caliper_offset_m);
  judge.number(Quantity::clicks_per_turn, mount.clicks_per_turn);
  judge.number(Quantity::backlash, mount.backlash_turns);
  if (mount.adjusters.size() != 3) {
    judge.problem(mount.adjusters.empty()
                      ? "it has no adjusters"
                      : fmt::format("it has {} adjuster{}", mount.adjusters.size(),
                                    mount.adjusters.size() == 1 ? "" : "s"),
                  "exactly three: they define the plane of the facet");
    return judge.take();
  }
  judge_labels(judge, mount);
  Problems of_screws;
  for (std::size_t i = 0; i < mount.adjusters.size(); ++i)
    append(of_screws, problems_of_screw(mount, i));
  if (of_screws.empty()) judge_triangle(judge, mount);
  Problems problems = judge.take();
  append(problems, std::move(of_screws));
  return problems;
}

Problems unknown_names(const Dish& dish, const Mount& mount) {
  if (mount.spring.text.empty() || find_spring(dish, mount.spring) != nullptr) return {};
  Judge judge(place_of(mount.name));
  judge.problem(fmt::format("its spring \"{}\"", mount.spring.text), "a spring of this dish");
  return judge.take();
}

Problems problems_of(const Spring& spring) {
  Judge judge(place_of(spring.name));
  judge.name("the name", spring.name.text);
  judge.number(Quantity::free_length, spring.free_length_m);
  judge.number(Quantity::solid_length, spring.solid_length_m);
  judge.number(Quantity::installed_length, spring.installed_length_m);
  judge.number(Quantity::spring_rate, spring.rate_N_m);
  judge.number(Quantity::least_force, spring.least_force_N);
  if (judge.clean() && !(spring.solid_length_m < spring.free_length_m))
    judge.problem(
        fmt::format("{:.6g} mm long when solid, {:.6g} mm when free",
                    base::mm_from_m(spring.solid_length_m), base::mm_from_m(spring.free_length_m)),
        "a spring that is longer when it is free");
  return judge.take();
}

}  // namespace dish
