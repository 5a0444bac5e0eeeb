// Applies a pattern of aims.
#include "tasks/aims_task.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/units.h"
#include "dish/edit.h"
#include "files/dish_write.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/sighting_settings.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;

/// Radius of the largest circle within the receiver.
double receiver_radius(const dish::Receiver& receiver) {
  if (const auto* disc = std::get_if<dish::DiscReceiver>(&receiver.shape)) {
    return 0.5 * disc->diameter_m;
  }
  const auto& rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
  return 0.5 * std::min(rectangle.width_m, rectangle.height_m);
}

}  // namespace

base::Result<AimsReply> run(const dish::Dish& dish, const AimsRequest& request) {
  auto changed = dish::apply(dish, dish::edit::SetAims{request.pattern});
  if (!changed) return changed.problems();
  AimsReply reply{.dish = std::move(changed).value(), .peak_ratio = {}, .most_radius_m = {}};
  if (request.spot_sigma_m) {
    reply.most_radius_m =
        dish::most_aim_radius_m(receiver_radius(dish.receiver), *request.spot_sigma_m);
    if (const auto* disc = std::get_if<dish::DiscAims>(&request.pattern)) {
      reply.peak_ratio = dish::peak_ratio(disc->radius_m, *request.spot_sigma_m);
    }
  }
  return reply;
}

std::string json_text(const AimsReply& reply) {
  Json aims = Json::array();
  for (const dish::Facet& facet : reply.dish.facets) {
    aims.push_back(Json{{"facet", facet.id.text}, {"aim_mm", numbers(facet.aim_m, 1000.0)}});
  }
  const auto known = [](const std::optional<double>& value, double scale) {
    return value ? number(*value * scale) : Json(nullptr);
  };
  return to_text(Json{{"aims", std::move(aims)},
                      {"peak_ratio", known(reply.peak_ratio, 1.0)},
                      {"most_radius_mm", known(reply.most_radius_m, 1000.0)},
                      {"dish", files::write_dish(reply.dish)}}) +
         "\n";
}

std::string report_text(const AimsReply& reply) {
  std::string text;
  if (reply.peak_ratio) {
    text += fmt::format("The peak falls to {} of what it is with all spots on one point.\n",
                        fixed(*reply.peak_ratio, 3));
  }
  if (reply.most_radius_m) {
    text += fmt::format("Aims up to {} mm from the centre lose little on this receiver.\n",
                        fixed(mm_from_m(*reply.most_radius_m), 1));
  }
  return text;
}

base::Result<std::string> answer_aims(const Call& call) {
  using dish::ranges::Quantity;
  Settings& settings = call.settings;
  AimsRequest request;
  const auto pattern = settings.word("pattern", {"single", "disc", "scaled"});
  const auto radius = number_in(settings, "radius_mm", Quantity::aim_radius);
  const double far_mm = mm_from_m(dish::ranges::of(Quantity::aim).most);
  const auto aim_mm = settings.pair("aim_mm", -far_mm, far_mm);
  request.spot_sigma_m = number_in(settings, "spot_sigma_mm", Quantity::spot_sigma);
  if (!pattern && settings.problems().empty()) {
    settings.add({"request.pattern", "missing", "single, disc or scaled"});
  }
  const bool is_single = pattern && *pattern == "single";
  if (pattern && settings.problems().empty() && is_single == radius.has_value()) {
    settings.add({"request.radius_mm", radius ? "given with a single aim" : "missing",
                  is_single ? "aim_mm [right, up], if not the centre" : "the pattern's radius"});
  }
  if (pattern && !is_single && aim_mm) {
    settings.add({"request.aim_mm", "given with a pattern of many aims", "pattern single"});
  }
  if (is_single) request.pattern = dish::SingleAim{aim_mm.value_or(base::Vec2{0.0}) * 1e-3};
  if (pattern && *pattern == "disc") request.pattern = dish::DiscAims{radius.value_or(0.0)};
  if (pattern && *pattern == "scaled") request.pattern = dish::ScaledAims{radius.value_or(0.0)};
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
