// A scene as the kernel wants it: all constants worked out in double, facet by facet.
#pragma once

#include <deque>
#include <vector>

#include "optics/kernel.h"
#include "optics/scene.h"

namespace optics {

/// T is float, or double for the reference. Lives no longer than the scene.
template <class T>
class KernelMaker {
 public:
  KernelMaker(const Scene& scene, double map_width_m);
  KernelMaker(const KernelMaker&) = delete;
  KernelMaker& operator=(const KernelMaker&) = delete;

  [[nodiscard]] const KernelScene<T>& scene() const { return made_; }

  /// Good until the next call.
  const KernelFacet<T>& facet(std::size_t index);

  /// What can stop light, by its number in the scene, for rays of a frame.
  [[nodiscard]] KernelStopper<T> stopper(const base::Pose& dish_from_ray, std::uint32_t code) const;

 private:
  struct Outline {
    KernelOutline<T> made{};
    std::vector<T> side, corner, share;
  };
  using Stoppers = std::vector<KernelStopper<T>>;

  const KernelOutline<T>* add_outline(const Edge& edge);
  void make_secondary();

  const Scene& scene_;
  std::deque<Outline> outlines_;  ///< of the scene's edges, then of the secondary
  std::vector<float> sun_table_;
  Stoppers after_, shaders_, blockers_;
  KernelScene<T> made_{};
  KernelFacet<T> facet_{};
};

extern template class KernelMaker<float>;
extern template class KernelMaker<double>;

}  // namespace optics
