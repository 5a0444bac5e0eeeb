// Whether one part of a dish can stand in it. Shared by dish/checks (a whole dish) and dish/edit
// (the part that an edit touches).
#pragma once

#include <string>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/ranges.h"

namespace dish {

/// Gathers what is wrong at one place.
class Judge {
 public:
  explicit Judge(std::string place) : place_(std::move(place)) {}

  /// A number within its range.
  void number(ranges::Quantity quantity, double si);
  void point(ranges::Quantity quantity, const base::Vec3& point);
  void pair(ranges::Quantity quantity, const base::Vec2& pair);

  /// A unit vector, up to rounding.
  void direction(const char* key, const base::Vec3& direction);

  /// A name a person can read aloud: not empty, at most 100 bytes, no control characters, no
  /// spaces at its ends.
  void name(const char* what, const std::string& text);

  void problem(std::string value, std::string expected);

  [[nodiscard]] bool clean() const { return problems_.empty(); }
  [[nodiscard]] base::Problems take() { return std::move(problems_); }

 private:
  std::string place_;
  base::Problems problems_;
};

// How places are called in messages.
std::string place_of(const FacetId& facet);
std::string place_of(const FacetTypeName& type);
std::string place_of(const MountName& mount);
std::string place_of(const SpringName& spring);
std::string place_of_screw(const Mount& mount, std::size_t screw);
std::string place_of_round(const Dish& dish, std::size_t round);
std::string place_of_blocker(const Dish& dish, std::size_t blocker);

// Each returns what is wrong with the part alone, whatever the rest of the dish.
base::Problems problems_of(const FacetType& type);
base::Problems problems_of(const Mount& mount);
base::Problems problems_of(const Spring& spring);
base::Problems problems_of(const Facet& facet);
base::Problems problems_of(const Secondary& secondary);
base::Problems problems_of(const Receiver& receiver);
base::Problems problems_of(const Sun& sun);
base::Problems problems_of(const Site& site);
base::Problems problems_of(const Blocker& blocker, const std::string& place);
base::Problems problems_of(const Round& round, const std::string& place);
base::Problems problems_of(const Spot& spot, const std::string& place);
base::Problems problems_of(const Lean& lean, const std::string& place);
base::Problems problems_of(const GaugeHeight& height, const std::string& place);
base::Problems problems_of(const Turned& turned, const std::string& place);

base::Problems problems_of(const Coating& coating, const std::string& place);
base::Problems problems_of(const SagMap& map, const std::string& place);
base::Problems problems_of(const FormError& error, const Outline& outline,
                           const std::string& place);

/// A good map that leaves more than one of its steps of the outline uncovered.
base::Problems map_misfit(const SagMap& map, const Outline& outline, const std::string& place);

/// Names that a facet or a mount refers to and that the dish does not have; a facet's own map that
/// does not cover the outline of its type.
base::Problems unknown_names(const Dish& dish, const Facet& facet);
base::Problems unknown_names(const Dish& dish, const Mount& mount);

/// Facets that a round speaks of and that the dish does not have; spots of one facet that stand
/// in it twice.
base::Problems unknown_facets(const Dish& dish, const Round& round, const std::string& place);
base::Problems doubled_spots(const Round& round, const std::string& place);

/// "facet Q9 is not in the dish", with the closest id there is.
base::Problem no_such_facet(const Dish& dish, const FacetId& facet, const std::string& place);

}  // namespace dish
