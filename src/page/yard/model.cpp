// The scene that light is traced through is also what is drawn.
#include "page/yard/model.h"

namespace yard {
namespace {

std::vector<base::Vec3> strut_ends(const dish::Dish& dish) {
  std::vector<base::Vec3> ends;
  for (const dish::Blocker& blocker : dish.blockers) {
    if (const auto* tube = std::get_if<dish::TubeBlocker>(&blocker.shape)) {
      ends.push_back(tube->from_m);
      ends.push_back(tube->to_m);
    }
  }
  return ends;
}

}  // namespace

bool refresh(Model& model, const session::Session& session) {
  const bool same = model.revision == session.document.revision &&
                    model.tracking_error_rad == session.tracking_error_rad;
  if (same) return false;
  model.revision = session.document.revision;
  model.tracking_error_rad = session.tracking_error_rad;
  auto scene =
      optics::make_scene(session.document.dish, {.tracking_error_rad = session.tracking_error_rad});
  if (!scene) {
    model.scene.reset();
    model.trouble = base::to_line(scene.problems().front());
    return true;
  }
  model.scene = std::move(scene).value();
  model.trouble.clear();
  model.ground = stand_on_ground(*model.scene);
  model.struts_dish = strut_ends(session.document.dish);
  return true;
}

std::size_t index_of(const Model& model, const std::optional<dish::FacetId>& facet) {
  if (!facet.has_value() || !model.scene.has_value()) return dish::k_no_facet;
  const auto& facets = model.scene->facets;
  for (std::size_t i = 0; i < facets.size(); ++i) {
    if (facets[i].id == *facet) return i;
  }
  return dish::k_no_facet;
}

}  // namespace yard
