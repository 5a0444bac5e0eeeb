// What the yard knows of the dish, kept until the dish changes.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "optics/scene.h"
#include "page/yard/ground.h"
#include "session/session.h"

namespace yard {

struct Model {
  std::uint64_t revision = 0;
  base::Vec2 tracking_error_rad{0.0, 0.0};
  std::optional<optics::Scene> scene;   ///< absent when the dish cannot be shown
  std::string trouble;                  ///< why
  std::vector<base::Vec3> struts_dish;  ///< ends of the tubes that stop light
  Ground ground;
};

/// Brings the model up to date; true when it changed.
bool refresh(Model& model, const session::Session& session);

/// Index of the facet with this id in the model's scene; k_no_facet when it has none.
std::size_t index_of(const Model& model, const std::optional<dish::FacetId>& facet);

}  // namespace yard
