// Reads the settings of a request: every key has a type and a range, an unknown key is named, and
// all problems are told in one go.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/vec.h"
#include "tasks/json.h"

namespace tasks {

/// One object of a request. Each reader returns the key's value, or nothing when the key is absent
/// or wrong; what was wrong is kept until `finish`.
class Settings {
 public:
  /// `place` is how messages call the object, e.g. "request" or "request.board".
  Settings(const Json& object, std::string place);

  std::optional<double> number(const std::string& key, double least, double most);
  std::optional<std::uint64_t> whole(const std::string& key, std::uint64_t least,
                                     std::uint64_t most);
  std::optional<bool> yes_or_no(const std::string& key);
  std::optional<std::string> text(const std::string& key);
  std::optional<std::string> word(const std::string& key, const std::vector<std::string>& allowed);
  std::optional<base::Vec2> pair(const std::string& key, double least, double most);
  std::optional<base::Vec3> triple(const std::string& key, double least, double most);

  /// A list of any length, at least one.
  std::optional<std::vector<double>> numbers(const std::string& key, double least, double most);

  /// The value as it stands, or nullptr; the key counts as known.
  const Json* raw(const std::string& key);

  void add(base::Problem problem) { problems_.push_back(std::move(problem)); }
  void add(const base::Problems& problems);

  /// What was wrong so far.
  [[nodiscard]] const base::Problems& problems() const { return problems_; }

  /// Everything that was wrong, and each key nobody asked for.
  [[nodiscard]] base::Problems finish() const;

 private:
  [[nodiscard]] std::string place_of(const std::string& key) const { return place_ + "." + key; }
  std::optional<std::vector<double>> list(const std::string& key, std::size_t count, double least,
                                          double most);

  const Json& object_;
  std::string place_;
  std::vector<std::string> known_;
  base::Problems problems_;
};

}  // namespace tasks
