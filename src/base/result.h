// Values that may be problems instead: how every reader, check and task answers.
// A problem names its place, the value found and what was expected, and reads as one line.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/check.h"

namespace base {

/// One thing wrong with something a person gave us.
struct Problem {
  std::string place;     ///< file, line and key path, or a facet and screw: where to look
  std::string value;     ///< what was found there, as text (may be empty)
  std::string expected;  ///< what would have been right, as the end of a sentence
};

using Problems = std::vector<Problem>;

/// One line for a person: "place: value, expected ...".
std::string to_line(const Problem& problem);

/// All problems, one line each.
std::string to_text(const Problems& problems);

/// Puts `more` at the end of `problems`.
inline void append(Problems& problems, Problems more) {
  for (Problem& problem : more) problems.push_back(std::move(problem));
}

/// Either a value or at least one problem.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : content_(std::move(value)) {}
  Result(Problem problem) : content_(Problems{std::move(problem)}) {}
  Result(Problems problems) : content_(std::move(problems)) {
    BASE_CHECK(!std::get<Problems>(content_).empty(), "a failed result names at least one problem");
  }

  [[nodiscard]] bool ok() const { return std::holds_alternative<T>(content_); }
  explicit operator bool() const { return ok(); }

  [[nodiscard]] const T& value() const& {
    BASE_CHECK(ok(), "a value is only taken from a result that is ok");
    return std::get<T>(content_);
  }
  [[nodiscard]] T&& value() && {
    BASE_CHECK(ok(), "a value is only taken from a result that is ok");
    return std::get<T>(std::move(content_));
  }
  [[nodiscard]] const Problems& problems() const {
    BASE_CHECK(!ok(), "problems are only taken from a result that failed");
    return std::get<Problems>(content_);
  }

 private:
  std::variant<T, Problems> content_;
};

/// The value of a success that has nothing to say.
struct Done {};

}  // namespace base
