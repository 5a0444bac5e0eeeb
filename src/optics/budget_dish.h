// A dish with some causes of loss and without others, ready for light.
#pragma once

#include <array>
#include <vector>

#include "base/result.h"
#include "optics/budget.h"
#include "optics/form_choice.h"
#include "optics/scene.h"

namespace optics {

/// Which causes are left as they are; the others are perfect.
class Causes {
 public:
  static Causes all() { return Causes(true); }
  static Causes none() { return Causes(false); }
  [[nodiscard]] Causes with(Cause cause) const { return set(cause, true); }
  [[nodiscard]] Causes without(Cause cause) const { return set(cause, false); }
  [[nodiscard]] bool has(Cause cause) const { return kept_[static_cast<std::size_t>(cause)]; }

 private:
  explicit Causes(bool kept) { kept_.fill(kept); }
  [[nodiscard]] Causes set(Cause cause, bool kept) const {
    Causes changed = *this;
    changed.kept_[static_cast<std::size_t>(cause)] = kept;
    return changed;
  }
  std::array<bool, k_causes> kept_{};
};

/// The scene of that dish. `best` are its facets' best forms. Problems: those of make_scene.
base::Result<Scene> scene_with(const dish::Dish& dish, const std::vector<BestForm>& best,
                               const base::Vec2& tracking_error_rad, const Causes& causes);

/// Whether the dish has the cause at all; `as_is` is its scene.
bool is_present(const dish::Dish& dish, const Scene& as_is, const base::Vec2& tracking_error_rad,
                Cause cause);

}  // namespace optics
