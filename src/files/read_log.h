// What a reader collects on its way: problems and notes with their places, and keys nobody asked
// for.
#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace files {

inline constexpr std::size_t k_problem_cap = 20;

/// Every "kind/key" that was asked for, e.g. "adjuster/pitch_mm", with the number of the quantity
/// (dish/ranges) it was taken for, or k_no_quantity.
using AskedKeys = std::set<std::pair<std::string, int>>;
inline constexpr int k_no_quantity = -1;

struct ReadLog {
  std::string file_name;
  base::Problems problems;
  std::vector<std::string> notes;
  std::vector<dish::UnknownKey> unknown;
  AskedKeys* asked = nullptr;  ///< when set, collects every key that was asked for

  /// True when no further problem would be kept, so that readers may stop.
  [[nodiscard]] bool full() const { return problems.size() >= k_problem_cap; }

  /// "my.dish.json, line 41, mounts/M/pitch_mm".
  [[nodiscard]] std::string where(int line, const std::string& place) const;

  void problem(int line, const std::string& place, std::string value, std::string expected);
  void note(int line, const std::string& place, const std::string& text);
};

}  // namespace files
