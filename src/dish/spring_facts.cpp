// Springs as their lengths tell.
#include "dish/spring_facts.h"

#include <algorithm>

namespace dish {

int loading_direction(const Spring& spring) { return spring.pushes_to_sun ? -1 : 1; }

double spring_length_m(const Spring& spring, double displacement_m) {
  return spring.installed_length_m - loading_direction(spring) * displacement_m;
}

double spring_force_N(const Spring& spring, double displacement_m) {
  const double squeezed = spring.free_length_m - spring_length_m(spring, displacement_m);
  return spring.rate_N_m * std::max(squeezed, 0.0);
}

SpringState spring_state(const Spring& spring, double displacement_m) {
  if (spring_length_m(spring, displacement_m) <= spring.solid_length_m) return SpringState::solid;
  if (spring_force_N(spring, displacement_m) < spring.least_force_N) return SpringState::slack;
  return SpringState::sound;
}

}  // namespace dish
