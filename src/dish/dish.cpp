// Look-ups by name.
#include "dish/dish.h"

#include <algorithm>

namespace dish {
namespace {

template <class T, class N>
const T* find_named(const std::vector<T>& things, const N& name) {
  const auto found =
      std::find_if(things.begin(), things.end(), [&](const T& t) { return t.name == name; });
  return found == things.end() ? nullptr : &*found;
}

}  // namespace

const FacetType* find_facet_type(const Dish& dish, const FacetTypeName& name) {
  return find_named(dish.facet_types, name);
}
const Mount* find_mount(const Dish& dish, const MountName& name) {
  return find_named(dish.mounts, name);
}
const Spring* find_spring(const Dish& dish, const SpringName& name) {
  return find_named(dish.springs, name);
}

std::size_t find_facet(const Dish& dish, const FacetId& id) {
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    if (dish.facets[i].id == id) return i;
  }
  return k_no_facet;
}

}  // namespace dish
