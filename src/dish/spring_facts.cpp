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

}  // namespace dish
