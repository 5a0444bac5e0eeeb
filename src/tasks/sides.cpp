// Reads two lengths of one object.
#include "tasks/sides.h"

#include "base/units.h"

namespace tasks {
namespace {

constexpr double k_longest_side_mm = 1e9;

/// The first side that is missing is named; the others would only repeat it.
void read_side(Settings& object, const std::string& place, const std::string& key, double& m) {
  if (const auto mm = object.number(key, 0.0, k_longest_side_mm)) {
    m = base::m_from_mm(*mm);
  } else if (object.problems().empty()) {
    object.add(base::Problem{place + "." + key, "missing", "a length in mm"});
  }
}

}  // namespace

std::optional<Sides> read_sides(Settings& settings, const std::string& key,
                                const std::function<void(Settings&)>& more) {
  const std::string place = "request." + key;
  const Json* given = settings.raw(key);
  if (given == nullptr) {
    settings.add(base::Problem{place, "missing", "{\"width_mm\", \"height_mm\"}"});
    return std::nullopt;
  }
  Sides sides;
  Settings object(*given, place);
  read_side(object, place, "width_mm", sides.width_m);
  read_side(object, place, "height_mm", sides.height_m);
  if (more) more(object);
  settings.add(object.finish());
  if (!object.problems().empty()) return std::nullopt;
  return sides;
}

}  // namespace tasks
