// A spot fixes the tilt; these rows choose the freedom that is left.
#include "page/bench/convention_rows.h"

#include "dish/dish.h"
#include "session/figures.h"

namespace page {
namespace {

using align::Piston;
using dish::ranges::Quantity;

/// Labels of the selected facet's screws, else of the first mount: what can be held.
std::vector<std::string> labels_of(const session::Session& session) {
  const dish::Dish& dish = session.document.dish;
  const dish::Mount* mount = dish.mounts.empty() ? nullptr : &dish.mounts.front();
  if (const auto selected = session::selected_facet(session)) {
    const dish::Mount* own = dish::find_mount(dish, dish.facets[*selected].mount);
    if (own != nullptr) mount = own;
  }
  std::vector<std::string> labels;
  if (mount == nullptr) return labels;
  for (const dish::Adjuster& adjuster : mount->adjusters) labels.push_back(adjuster.label);
  return labels;
}

void show_held(const session::Session& session, align::PlanRequest& request, bool& changed) {
  const std::vector<std::string> labels = labels_of(session);
  int now = -1;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    if (labels[i] == request.held_screw) now = static_cast<int>(i);
  }
  if (const auto chosen = choice_row("hold", labels, now)) {
    request.held_screw = labels[static_cast<std::size_t>(*chosen)];
    changed = true;
  }
}

}  // namespace

void show_convention_rows(const session::Session& session, AlignMemory& memory,
                          session::Actions& actions) {
  align::PlanRequest request = session.plan_request;
  bool changed = false;
  if (const auto chosen = choice_row(
          "convention",
          {"keep the height", "hold a screw", "fewest turns", "least largest turn", "least squares",
           "tighten only", "middle of travel"},
          static_cast<int>(request.piston),
          "A spot fixes how the facet tilts, not how far it stands from its bracket. Fewest turns "
          "leaves the middle screw alone, so only two are touched.")) {
    request.piston = static_cast<Piston>(*chosen);
    const std::vector<std::string> labels = labels_of(session);
    if (request.piston == Piston::hold_screw && request.held_screw.empty() && !labels.empty()) {
      request.held_screw = labels.front();
    }
    changed = true;
  }
  if (request.piston == Piston::hold_screw) show_held(session, request, changed);
  const auto sigma = plain_number_row({"spot read to", Quantity::spot_sigma, request.spot_sigma_m,
                                       "Standard deviation of a spot's reading, per axis"},
                                      memory.fields);
  if (sigma) {
    request.spot_sigma_m = *sigma;
    changed = true;
  }
  if (const auto on = switch_row("spot is its middle", request.spot_is_centroid,
                                 "On: the seen spot is the middle of the whole facet's light. Off: "
                                 "the ray of the facet's centre, as a laser shows it.")) {
    request.spot_is_centroid = *on;
    changed = true;
  }
  if (changed) actions.push_back(session::act::SetPlanRequest{request});
}

}  // namespace page
