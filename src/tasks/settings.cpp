// Checks the keys, types and ranges of a request's settings.
#include "tasks/settings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace tasks {
namespace {

/// A value short enough to stand in a message.
std::string shown(const Json& value) {
  constexpr std::size_t k_longest = 60;
  if (value.is_structured()) return value.is_array() ? "a list" : "an object";
  const std::string text = to_dense_text(value);
  return text.size() <= k_longest ? text : text.substr(0, k_longest) + "...";
}

bool in_range(const Json& value, double least, double most) {
  return value.is_number() && value.get<double>() >= least && value.get<double>() <= most;
}

std::string range_text(double least, double most) {
  return fmt::format("a number from {} to {}", least, most);
}

}  // namespace

Settings::Settings(const Json& object, std::string place)
    : object_(object), place_(std::move(place)) {
  if (!object_.is_object())
    problems_.push_back({place_, shown(object_), "an object with settings"});
}

const Json* Settings::raw(const std::string& key) {
  known_.push_back(key);
  if (!object_.is_object()) return nullptr;
  const auto found = object_.find(key);
  return found == object_.end() ? nullptr : &found.value();
}

std::optional<double> Settings::number(const std::string& key, double least, double most) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  if (in_range(*value, least, most)) return value->get<double>();
  add({place_of(key), shown(*value), range_text(least, most)});
  return std::nullopt;
}

std::optional<std::uint64_t> Settings::whole(const std::string& key, std::uint64_t least,
                                             std::uint64_t most) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  if (value->is_number_unsigned()) {
    const auto got = value->get<std::uint64_t>();
    if (got >= least && got <= most) return got;
  }
  add({place_of(key), shown(*value), fmt::format("a whole number from {} to {}", least, most)});
  return std::nullopt;
}

std::optional<bool> Settings::yes_or_no(const std::string& key) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  if (value->is_boolean()) return value->get<bool>();
  add({place_of(key), shown(*value), "true or false"});
  return std::nullopt;
}

std::optional<std::string> Settings::text(const std::string& key) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  if (value->is_string()) return value->get<std::string>();
  add({place_of(key), shown(*value), "text in quotes"});
  return std::nullopt;
}

std::optional<std::string> Settings::word(const std::string& key,
                                          const std::vector<std::string>& allowed) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  if (value->is_string()) {
    const auto found = std::find(allowed.begin(), allowed.end(), value->get<std::string>());
    if (found != allowed.end()) return *found;
  }
  add({place_of(key), shown(*value), fmt::format("one of {}", fmt::join(allowed, ", "))});
  return std::nullopt;
}

std::optional<std::vector<double>> Settings::list(const std::string& key, std::size_t count,
                                                  double least, double most) {
  const Json* value = raw(key);
  if (value == nullptr) return std::nullopt;
  const bool fits = value->is_array() && value->size() == count &&
                    std::all_of(value->begin(), value->end(),
                                [&](const Json& entry) { return in_range(entry, least, most); });
  if (fits) return value->get<std::vector<double>>();
  add({place_of(key), shown(*value),
       fmt::format("a list of {} numbers from {} to {}", count, least, most)});
  return std::nullopt;
}

std::optional<base::Vec2> Settings::pair(const std::string& key, double least, double most) {
  const auto values = list(key, 2, least, most);
  if (!values) return std::nullopt;
  return base::Vec2((*values)[0], (*values)[1]);
}

std::optional<base::Vec3> Settings::triple(const std::string& key, double least, double most) {
  const auto values = list(key, 3, least, most);
  if (!values) return std::nullopt;
  return base::Vec3((*values)[0], (*values)[1], (*values)[2]);
}

std::optional<std::vector<double>> Settings::numbers(const std::string& key, double least,
                                                     double most) {
  const auto found = object_.is_object() ? object_.find(key) : object_.end();
  const bool some = object_.is_object() && found != object_.end() && found->is_array();
  return list(key, some ? std::max<std::size_t>(found->size(), 1) : 1, least, most);
}

void Settings::add(const base::Problems& problems) {
  problems_.insert(problems_.end(), problems.begin(), problems.end());
}

base::Problems Settings::finish() const {
  base::Problems problems = problems_;
  if (!object_.is_object()) return problems;
  for (const auto& entry : object_.items()) {
    if (std::find(known_.begin(), known_.end(), entry.key()) != known_.end()) continue;
    problems.push_back({place_of(entry.key()), "there is no such setting",
                        fmt::format("one of {}", fmt::join(known_, ", "))});
  }
  return problems;
}

}  // namespace tasks
