// The judge, the names of places, and the facets' own checks.
#include "dish/part_checks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/closest.h"

namespace dish {

using base::Problem;
using base::Problems;
using ranges::Quantity;

void Judge::number(Quantity quantity, double si) {
  if (auto problem = ranges::problem_of(quantity, si, place_))
    problems_.push_back(std::move(*problem));
}

void Judge::point(Quantity quantity, const base::Vec3& point) {
  for (const double coordinate : {point.x, point.y, point.z}) number(quantity, coordinate);
}

void Judge::pair(Quantity quantity, const base::Vec2& pair) {
  for (const double coordinate : {pair.x, pair.y}) number(quantity, coordinate);
}

void Judge::direction(const char* key, const base::Vec3& direction) {
  constexpr double k_rounding = 1e-9;
  const double length = glm::length(direction);
  if (std::abs(length - 1.0) <= k_rounding) return;
  problem(fmt::format("{} = ({:.6g}, {:.6g}, {:.6g})", key, direction.x, direction.y, direction.z),
          length > 0.0 ? "a direction of length 1" : "a direction, which has a length");
}

void Judge::name(const char* what, const std::string& text) {
  constexpr std::size_t k_longest = 100;
  const auto is_control = [](char letter) {
    return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7f;
  };
  if (text.empty()) {
    problem(fmt::format("{} is empty", what), "a name");
  } else if (text.size() > k_longest) {
    problem(fmt::format("{} of {} bytes", what, text.size()),
            fmt::format("a name of at most {} bytes", k_longest));
  } else if (std::any_of(text.begin(), text.end(), is_control)) {
    problem(fmt::format("{} holds a control character", what), "a name that can be read");
  } else if (text.front() == ' ' || text.back() == ' ') {
    problem(fmt::format("{} \"{}\"", what, text), "a name without spaces at its ends");
  }
}

void Judge::problem(std::string value, std::string expected) {
  problems_.push_back({place_, std::move(value), std::move(expected)});
}

std::string place_of(const FacetId& facet) { return "facet " + facet.text; }
std::string place_of(const FacetTypeName& type) { return "facet type " + type.text; }
std::string place_of(const MountName& mount) { return "mount " + mount.text; }
std::string place_of(const SpringName& spring) { return "spring " + spring.text; }

std::string place_of_screw(const Mount& mount, std::size_t screw) {
  const std::string& label = mount.adjusters[screw].label;
  return fmt::format("{}, screw {}", place_of(mount.name),
                     label.empty() ? fmt::format("number {}", screw + 1) : label);
}

std::string place_of_round(const Dish& dish, std::size_t round) {
  const std::string& name = dish.rounds[round].name;
  return name.empty() ? fmt::format("round {}", round + 1)
                      : fmt::format("round {} ({})", round + 1, name);
}

std::string place_of_blocker(const Dish& dish, std::size_t blocker) {
  const std::string& name = dish.blockers[blocker].name;
  return name.empty() ? fmt::format("shading part {}", blocker + 1) : "shading part " + name;
}

namespace {

void judge_bracket(Judge& judge, const Bracket& bracket) {
  judge.point(Quantity::centre, bracket.origin_m);
  const double size = glm::length(bracket.x) * glm::length(bracket.y);
  if (!(glm::length(glm::cross(bracket.x, bracket.y)) > 1e-6 * size) || !std::isfinite(size))
    judge.problem("its bracket's x and y directions are zero or parallel",
                  "two directions that span a plane");
}

}  // namespace

Problems problems_of(const Facet& facet) {
  Judge judge(place_of(facet.id));
  judge.name("the id", facet.id.text);
  judge.point(Quantity::centre, facet.centre_m);
  judge.number(Quantity::clocking, facet.clocking_rad);
  judge.pair(Quantity::aim, facet.aim_m);
  for (const double displacement : facet.displacement_m)
    judge.number(Quantity::displacement, displacement);
  if (facet.normal) {
    judge.direction("normal", *facet.normal);
    if (judge.clean() && !(facet.normal->z > 0.0))
      judge.problem(fmt::format("its normal has z = {:.6g}", facet.normal->z),
                    "z above zero: this facet faces away from the sun");
  }
  if (facet.bracket) judge_bracket(judge, *facet.bracket);
  Problems problems = judge.take();
  if (facet.sag_map) {
    for (Problem& problem : problems_of(*facet.sag_map, place_of(facet.id) + ", sag map"))
      problems.push_back(std::move(problem));
  }
  return problems;
}

Problems unknown_names(const Dish& dish, const Facet& facet) {
  Judge judge(place_of(facet.id));
  const FacetType* type = find_facet_type(dish, facet.type);
  if (type == nullptr) {
    judge.problem(facet.type.text.empty() ? "it has no facet type"
                                          : fmt::format("its type \"{}\"", facet.type.text),
                  "a facet type of this dish");
  }
  if (facet.mount.text.empty()) {
    const auto& moved = facet.displacement_m;
    if (std::any_of(moved.begin(), moved.end(), [](double d) { return d != 0.0; }))
      judge.problem("its screws are displaced, but it has no mount",
                    "a mount that says where they are");
  } else if (find_mount(dish, facet.mount) == nullptr) {
    judge.problem(fmt::format("its mount \"{}\"", facet.mount.text), "a mount of this dish");
  }
  Problems problems = judge.take();
  if (type != nullptr && facet.sag_map) {
    for (Problem& problem :
         map_misfit(*facet.sag_map, type->outline, place_of(facet.id) + ", sag map"))
      problems.push_back(std::move(problem));
  }
  return problems;
}

Problem no_such_facet(const Dish& dish, const FacetId& facet, const std::string& place) {
  std::vector<std::string> ids;
  for (const Facet& known : dish.facets) ids.push_back(known.id.text);
  const auto close = base::closest(facet.text, ids);
  return {place, fmt::format("facet \"{}\"", facet.text),
          close ? fmt::format("a facet of this dish, perhaps {}", *close) : "a facet of this dish"};
}

}  // namespace dish
