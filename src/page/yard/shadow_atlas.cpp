// As square a picture as the number of facets allows.
#include "page/yard/shadow_atlas.h"

#include <cmath>
#include <cstddef>

namespace yard {

ShadowAtlas shadow_atlas(const optics::Shadows& shadows) {
  const auto count = static_cast<int>(shadows.clear.size());
  if (count == 0 || shadows.side == 0) return {};
  ShadowAtlas atlas{.columns = static_cast<int>(std::ceil(std::sqrt(count))), .side = shadows.side};
  atlas.rows = (count + atlas.columns - 1) / atlas.columns;
  const int side = atlas.side;
  atlas.bytes.assign(static_cast<std::size_t>(4 * atlas.width() * atlas.height()), 255);
  for (int facet = 0; facet < count; ++facet) {
    const std::vector<float>& clear = shadows.clear[static_cast<std::size_t>(facet)];
    if (clear.empty()) continue;
    const int left = facet % atlas.columns * side;
    const int bottom = facet / atlas.columns * side;
    for (int cell = 0; cell < side * side; ++cell) {
      const int at = (bottom + cell / side) * atlas.width() + left + cell % side;
      atlas.bytes[static_cast<std::size_t>(4 * at)] =
          static_cast<std::uint8_t>(std::lround(255.0F * clear[static_cast<std::size_t>(cell)]));
    }
  }
  return atlas;
}

}  // namespace yard
