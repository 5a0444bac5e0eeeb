// Chooses the recipe; ring letters; the normal that petals are fitted with.
#include "dish/recipes.h"

#include "base/check.h"

namespace dish {

base::Result<std::vector<Facet>> lay_out(const Layout& layout, double focal_length_m) {
  if (const auto* rings = std::get_if<RingsLayout>(&layout))
    return lay_rings(*rings, focal_length_m);
  if (const auto* lattice = std::get_if<LatticeLayout>(&layout))
    return lay_lattice(*lattice, focal_length_m);
  return lay_petals(std::get<PetalsLayout>(layout), focal_length_m);
}

std::string ring_letters(int n) {
  CHECK(n >= 1, "rings with letters count from one");
  std::string letters;
  for (; n > 0; n = (n - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('A' + (n - 1) % 26));
  return letters;
}

base::Vec3 prime_focus_normal(const base::Vec3& centre_m, double focal_length_m) {
  const base::Vec3 up{0.0, 0.0, 1.0};
  const base::Vec3 to_focus = base::Vec3{0.0, 0.0, focal_length_m} - centre_m;
  const double distance = glm::length(to_focus);
  if (!(distance > 0.0)) return up;
  const base::Vec3 sum = to_focus / distance + up;
  return glm::length(sum) > 1e-12 ? base::unit(sum) : up;
}

}  // namespace dish
