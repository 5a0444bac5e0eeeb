// Takes causes out of a dish one by one.
#include "optics/budget_dish.h"

#include <algorithm>

#include "optics/coating.h"

namespace optics {
namespace {

/// So wide that it takes all of its plane's light.
constexpr double k_endless = 1e6;

void perfect_sun(dish::Sun& sun, const Causes& causes) {
  if (!causes.has(Cause::sun_size)) {
    sun.half_angle_rad = 0.0;
    sun.shape = dish::PillboxSun{};
  }
  if (!causes.has(Cause::circumsolar)) {
    if (auto* shape = std::get_if<dish::CircumsolarSun>(&sun.shape)) shape->ratio = 0.0;
  }
}

/// Facet types and the secondary say alike what they reflect.
template <class Mirror>
void perfect_reflectance(Mirror& mirror, const Causes& causes) {
  if (!causes.has(Cause::reflectance)) {
    mirror.coating.reset();
    mirror.reflectance = 1.0;
  }
  if (!causes.has(Cause::soiling)) mirror.cleanliness = 1.0;
}

void perfect_mirrors(dish::Dish& dish, const Causes& causes) {
  for (dish::FacetType& type : dish.facet_types) {
    if (!causes.has(Cause::slope)) type.slope_error_rad = 0.0;
    if (!causes.has(Cause::specularity)) type.specularity_error_rad = 0.0;
    if (!causes.has(Cause::form)) type.form_error = {};
    perfect_reflectance(type, causes);
  }
  if (!causes.has(Cause::form)) {
    for (dish::Facet& facet : dish.facets) facet.sag_map = nullptr;
  }
  if (dish.secondary) perfect_reflectance(*dish.secondary, causes);
  if (dish.secondary && !causes.has(Cause::secondary)) {
    dish.secondary->slope_error_rad = 0.0;
    dish.secondary->specularity_error_rad = 0.0;
  }
}

bool absorbs_clean(const dish::FacetType& type) {
  return MirrorReflectance(type.reflectance, type.coating, 1.0).at(1.0) < 1.0;
}
bool absorbs_clean(const dish::Secondary& secondary) {
  return MirrorReflectance(secondary.reflectance, secondary.coating, 1.0).at(1.0) < 1.0;
}

std::vector<dish::Surface> pieces_of(const std::vector<BestForm>& best) {
  std::vector<dish::Surface> surfaces;
  for (const BestForm& form : best) surfaces.emplace_back(form.piece);
  return surfaces;
}

template <class Has>
bool any_type_in_use(const dish::Dish& dish, Has has) {
  return std::any_of(dish.facets.begin(), dish.facets.end(), [&](const dish::Facet& facet) {
    const dish::FacetType* type = dish::find_facet_type(dish, facet.type);
    return type != nullptr && has(*type);
  });
}

bool is_moved(const dish::Facet& facet) {
  return facet.normal || std::any_of(facet.displacement_m.begin(), facet.displacement_m.end(),
                                     [](double displacement) { return displacement != 0.0; });
}

}  // namespace

base::Result<Scene> scene_with(const dish::Dish& dish, const std::vector<BestForm>& best,
                               const base::Vec2& tracking_error_rad, const Causes& causes) {
  dish::Dish changed = causes.has(Cause::surface) ? dish : with_surfaces(dish, pieces_of(best));
  perfect_sun(changed.sun, causes);
  perfect_mirrors(changed, causes);
  if (!causes.has(Cause::adjustment)) {
    for (dish::Facet& facet : changed.facets) {
      facet.displacement_m = {0.0, 0.0, 0.0};
      facet.normal.reset();
    }
  }
  const bool tracks = !causes.has(Cause::tracking);
  auto scene =
      make_scene(changed, {.tracking_error_rad = tracks ? base::Vec2(0.0) : tracking_error_rad,
                           .shading = causes.has(Cause::shading),
                           .blocking = causes.has(Cause::blocking)});
  if (!scene) return scene;
  Scene made = std::move(scene).value();
  if (!causes.has(Cause::receiver_size)) made.receiver.half_m *= k_endless;
  return made;
}

bool is_present(const dish::Dish& dish, const Scene& as_is, const base::Vec2& tracking_error_rad,
                Cause cause) {
  const auto any_facet = [&](auto has) {
    return std::any_of(as_is.facets.begin(), as_is.facets.end(), has);
  };
  switch (cause) {
    case Cause::sun_size:
      return as_is.sun_profile.reach_sine > 0.0;
    case Cause::circumsolar: {
      const auto* shape = std::get_if<dish::CircumsolarSun>(&dish.sun.shape);
      return shape != nullptr && shape->ratio > 0.0;
    }
    case Cause::slope:
      return any_type_in_use(
          dish, [](const dish::FacetType& type) { return type.slope_error_rad > 0.0; });
    case Cause::specularity:
      return any_type_in_use(
          dish, [](const dish::FacetType& type) { return type.specularity_error_rad > 0.0; });
    case Cause::form:
      return any_facet([&](const SceneFacet& facet) {
        return facet.form != k_no_form && !dish::is_perfect(as_is.forms[facet.form].error);
      });
    case Cause::adjustment:
      return std::any_of(dish.facets.begin(), dish.facets.end(), is_moved);
    case Cause::tracking:
      return tracking_error_rad != base::Vec2(0.0);
    case Cause::secondary:
      return dish.secondary &&
             dish.secondary->slope_error_rad + dish.secondary->specularity_error_rad > 0.0;
    case Cause::shading:
      return any_facet([](const SceneFacet& facet) { return facet.shaders.count > 0; });
    case Cause::blocking:
      return as_is.secondary ||
             any_facet([](const SceneFacet& facet) { return facet.blockers.count > 0; });
    case Cause::reflectance:
      return (dish.secondary && absorbs_clean(*dish.secondary)) ||
             any_type_in_use(dish, [](const dish::FacetType& type) { return absorbs_clean(type); });
    case Cause::soiling:
      return (dish.secondary && dish.secondary->cleanliness < 1.0) ||
             any_type_in_use(dish,
                             [](const dish::FacetType& type) { return type.cleanliness < 1.0; });
    case Cause::surface:
    case Cause::receiver_size:
      return true;
  }
  return false;
}

}  // namespace optics
