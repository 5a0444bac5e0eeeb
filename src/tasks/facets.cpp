// Words for a facet that is not there.
#include "tasks/facets.h"

#include <fmt/format.h>

#include <optional>
#include <vector>

#include "base/closest.h"

namespace tasks {

base::Problem unknown_facet(const dish::Dish& dish, const dish::FacetId& id,
                            const std::string& place) {
  std::vector<std::string> ids;
  for (const dish::Facet& facet : dish.facets) ids.push_back(facet.id.text);
  std::string expected = "the id of a facet of this dish";
  if (const std::optional<std::string> near = base::closest(id.text, ids)) {
    expected += fmt::format(", perhaps {}", *near);
  } else if (!ids.empty()) {
    expected += fmt::format(", such as {}", ids.front());
  }
  return {place, fmt::format("there is no facet {}", id.text.empty() ? "\"\"" : id.text), expected};
}

}  // namespace tasks
