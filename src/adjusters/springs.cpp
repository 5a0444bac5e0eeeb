// Linear compression springs at a screw.
#include "adjusters/springs.h"

#include <algorithm>

#include "dish/spring_facts.h"

namespace adjusters {
namespace {

/// Length at which the spring is taken as nearly solid.
double reserve_length(const dish::Spring& spring) {
  return spring.solid_length_m + k_solid_reserve * (spring.free_length_m - spring.solid_length_m);
}

/// Length at which the spring pushes with its least force.
double holding_length(const dish::Spring& spring) {
  return spring.free_length_m - spring.least_force_N / spring.rate_N_m;
}

}  // namespace

int loading_direction(const dish::Spring* spring) {
  if (spring == nullptr) return 0;
  return dish::loading_direction(*spring);
}

SpringReading spring_at(const dish::Spring* spring, double displacement_m) {
  if (spring == nullptr) return {};
  const double length = dish::spring_length_m(*spring, displacement_m);
  const double force = dish::spring_force_N(*spring, displacement_m);
  SpringReading reading{SpringState::ok, length, force};
  if (length >= spring->free_length_m) {
    reading.state = SpringState::slack;
  } else if (length <= spring->solid_length_m) {
    reading.state = SpringState::solid;
  } else if (length < reserve_length(*spring)) {
    reading.state = SpringState::near_solid;
  } else if (length > holding_length(*spring)) {
    reading.state = SpringState::low;
  }
  return reading;
}

Interval working_range(const dish::Adjuster& adjuster, const dish::Spring* spring) {
  const Interval travel{adjuster.travel_min_m, adjuster.travel_max_m};
  if (spring == nullptr) return travel;
  // How far the spring may lengthen and shorten from its installed length.
  const double longer = holding_length(*spring) - spring->installed_length_m;
  const double shorter = spring->installed_length_m - reserve_length(*spring);
  const Interval held =
      spring->pushes_to_sun ? Interval{-shorter, longer} : Interval{-longer, shorter};
  return {std::max(travel.least, held.least), std::min(travel.most, held.most)};
}

const char* to_text(SpringState state) {
  switch (state) {
    case SpringState::none:
      return "no spring described";
    case SpringState::slack:
      return "slack";
    case SpringState::low:
      return "low force";
    case SpringState::ok:
      return "in order";
    case SpringState::near_solid:
      return "nearly solid";
    case SpringState::solid:
      return "solid";
  }
  return "";
}

}  // namespace adjusters
