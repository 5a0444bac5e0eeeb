// Finds screws out of range and light that misses.
#include "tasks/check_rays.h"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <variant>

#include "adjusters/springs.h"
#include "base/units.h"
#include "tasks/check_task.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using dish::Finding;
using dish::Severity;

/// "facet A1", "facets A1, A2, A3", "facets A1, A2, A3 and 33 more".
std::string facets_place(const std::vector<dish::FacetId>& ids) {
  constexpr std::size_t k_named = 3;
  std::string text = ids.size() == 1 ? "facet " : "facets ";
  for (std::size_t i = 0; i < ids.size() && i < k_named; ++i) {
    text += (i > 0 ? ", " : "") + ids[i].text;
  }
  if (ids.size() > k_named) text += fmt::format(" and {} more", ids.size() - k_named);
  return text;
}

void add_about(std::vector<Finding>& findings, const std::vector<dish::FacetId>& ids,
               const std::string& sentence) {
  if (!ids.empty()) findings.push_back({Severity::doubt, facets_place(ids), sentence});
}

bool on_receiver(const dish::Receiver& receiver, const base::Vec2& at_m) {
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) {
    return glm::length(at_m) <= 0.5 * disc->diameter_m;
  }
  const auto& rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
  return std::abs(at_m.x) <= 0.5 * rectangle.width_m &&
         std::abs(at_m.y) <= 0.5 * rectangle.height_m;
}

std::string percent(double share) { return fixed(100.0 * share, 0) + " %"; }

void add_share(std::vector<Finding>& findings, double part, double whole, double limit,
               const std::string& place, const std::string& words) {
  if (whole > 0.0 && part > limit * whole) {
    findings.push_back({Severity::doubt, place, percent(part / whole) + " " + words});
  }
}

}  // namespace

std::vector<Finding> screw_doubts(const dish::Dish& dish) {
  using adjusters::SpringState;
  std::vector<dish::FacetId> beyond;
  std::vector<dish::FacetId> loose;
  std::vector<dish::FacetId> tight;
  for (const dish::Facet& facet : dish.facets) {
    const dish::Mount* mount = dish::find_mount(dish, facet.mount);
    if (mount == nullptr || mount->adjusters.size() != facet.displacement_m.size()) continue;
    const dish::Spring* spring = dish::find_spring(dish, mount->spring);
    bool is_beyond = false;
    bool is_loose = false;
    bool is_tight = false;
    for (std::size_t k = 0; k < facet.displacement_m.size(); ++k) {
      const double at = facet.displacement_m[k];
      const dish::Adjuster& adjuster = mount->adjusters[k];
      is_beyond = is_beyond || at < adjuster.travel_min_m || at > adjuster.travel_max_m;
      const SpringState state = adjusters::spring_at(spring, at).state;
      is_loose = is_loose || state == SpringState::slack || state == SpringState::low;
      is_tight = is_tight || state == SpringState::near_solid || state == SpringState::solid;
    }
    if (is_beyond) beyond.push_back(facet.id);
    if (is_loose) loose.push_back(facet.id);
    if (is_tight) tight.push_back(facet.id);
  }
  std::vector<Finding> findings;
  add_about(findings, beyond, "a screw stands beyond its travel");
  add_about(findings, loose, "a spring is slack, or too weak to hold the facet");
  add_about(findings, tight, "a spring is pressed solid, or nearly so");
  return findings;
}

std::vector<Finding> light_doubts(const dish::Dish& dish, const optics::TraceResult& light) {
  std::vector<dish::FacetId> dark;
  std::vector<dish::FacetId> beside;
  for (const optics::FacetFigures& facet : light.facets) {
    if (facet.lit_fraction <= 0.0) {
      dark.push_back(facet.id);
    } else if (facet.power_W <= 0.0 || !on_receiver(dish.receiver, facet.centroid_m)) {
      beside.push_back(facet.id);
    }
  }
  std::vector<Finding> findings;
  add_about(findings, dark, "wholly shaded or blocked: no light gets from the sun past it");
  add_about(findings, beside, "the middle of its light falls beside the receiver");
  const optics::Ledger& watts = light.ledger;
  add_share(findings, watts.shading_W, watts.incident_W, k_heavy_shading, "sunlight",
            "of the light on the aperture is shaded before it meets a facet");
  add_share(findings, watts.blocking_W, light.power_reflected_W, k_heavy_blocking, "facets",
            "of the light they reflect is blocked on its way");
  add_share(findings, watts.secondary_missed_W, light.power_reflected_W, 1.0 - k_low_intercept,
            "secondary", "of the light the facets reflect passes beside the secondary");
  if (light.power_plane_W <= 0.0) {
    findings.push_back({Severity::doubt, "receiver", "no light reaches its plane at all"});
  } else {
    add_share(findings, light.power_plane_W - light.power_receiver_W, light.power_plane_W,
              1.0 - k_low_intercept, "receiver", "of the light in its plane falls beside its edge");
  }
  return findings;
}

}  // namespace tasks
