// Taking a task's reply apart again, key by key: for the page, which gets it from a worker.
#pragma once

#include <string_view>

#include "base/units.h"
#include "tasks/json.h"

namespace tasks {

/// The reply's JSON, or the problems it brings.
inline base::Result<Json> open_reply(std::string_view reply) {
  auto parsed = parse_json(reply, "reply");
  if (!parsed || !parsed.value().contains("problems")) return parsed;
  base::Problems problems;
  for (const Json& each : parsed.value()["problems"]) {
    problems.push_back(
        {each.value("place", ""), each.value("value", ""), each.value("expected", "")});
  }
  return problems;
}

/// A number; null, which stands for "not known", as 0.
inline double real(const Json& json, const char* key) {
  const Json& value = json.at(key);
  return value.is_null() ? 0.0 : value.get<double>();
}

inline double metres(const Json& json, const char* key_mm) {
  return base::m_from_mm(real(json, key_mm));
}

/// Reads a reply with a reader that throws where a key is missing or of another type.
template <class Reply, class Read>
base::Result<Reply> read_with(std::string_view text, const Read& read) {
  const auto json = open_reply(text);
  if (!json) return json.problems();
  try {
    return read(json.value());
  } catch (const Json::exception& fault) {
    return base::Problem{"the worker's reply", fault.what(), "a whole reply"};
  }
}

}  // namespace tasks
