// Where a round's light stands.
#include "dish/rounds.h"

#include <type_traits>

namespace dish {

const base::Vec3* point_of(const Source& source) {
  return std::visit(
      [](const auto& kind) -> const base::Vec3* {
        using Kind = std::decay_t<decltype(kind)>;
        if constexpr (std::is_same_v<Kind, SunSource> || std::is_same_v<Kind, LaserSource>) {
          return nullptr;
        } else {
          return &kind.position_m;
        }
      },
      source);
}

bool has_observations(const Round& round) {
  return !round.spots.empty() || !round.leans.empty() || !round.heights.empty();
}

Source moved_to(const Source& source, const base::Vec3& position_m) {
  return std::visit(
      [&](auto kind) -> Source {
        using Kind = decltype(kind);
        if constexpr (!std::is_same_v<Kind, SunSource> && !std::is_same_v<Kind, LaserSource>) {
          kind.position_m = position_m;
        }
        return kind;
      },
      source);
}

}  // namespace dish
