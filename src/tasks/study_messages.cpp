// Requests are put together as the tasks read them; replies are read back key by key.
#include "tasks/study_messages.h"

#include <algorithm>
#include <array>
#include <utility>

#include "base/units.h"
#include "files/dish_read.h"
#include "tasks/reply_reader.h"

namespace tasks {
namespace {

using base::m_from_mm;

using optics::FormKind;

void put_sun(Json& request, const base::Vec2& tracking_error_rad) {
  request["sun_x_mrad"] = base::mrad_from_rad(tracking_error_rad.x);
  request["sun_y_mrad"] = base::mrad_from_rad(tracking_error_rad.y);
}

Json request_of(const char* task, std::string_view dish_text) {
  return Json{{"task", task}, {"dish", std::string(dish_text)}};
}

template <class Enum, class All>
Enum by_key(const std::string& key, const All& all, Enum otherwise) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](Enum each) { return key == optics::key_of(each); });
  return found == all.end() ? otherwise : *found;
}

base::Result<dish::Dish> dish_in(const Json& json) {
  auto read = files::read_dish(to_text(json.at("dish")), "the answer's dish");
  if (!read) return read.problems();
  return std::move(read).value().dish;
}

// --- Budget ---

optics::CauseCost cost_of(const Json& json) {
  return {.cause = by_key(json.at("cause").get<std::string>(), optics::k_all_causes,
                          optics::Cause::sun_size),
          .is_present = json.at("present").get<bool>(),
          .gain_W = real(json, "gain_W"),
          .gain_error_W = real(json, "gain_error_W"),
          .loss_W = real(json, "loss_W"),
          .loss_error_W = real(json, "loss_error_W"),
          .narrower_m = metres(json, "narrower_mm"),
          .blur_m = metres(json, "blur_mm"),
          .blur_rad = base::rad_from_mrad(real(json, "blur_mrad"))};
}

optics::Merit merit_of(const Json& json) {
  return {.aperture_diameter_m = metres(json, "aperture_diameter_mm"),
          .rim_angle_rad = base::rad_from_deg(real(json, "rim_angle_deg")),
          .magnification = real(json, "magnification"),
          .effective_focal_length_m = real(json, "effective_focal_length_m"),
          .effective_focal_ratio = real(json, "effective_focal_ratio"),
          .arriving_rim_angle_rad = base::rad_from_deg(real(json, "arriving_rim_angle_deg")),
          .sun_image_m = metres(json, "sun_image_mm"),
          .limit_concentration = real(json, "limit_concentration"),
          .geometric_concentration = real(json, "geometric_concentration"),
          .mean_concentration = real(json, "mean_concentration"),
          .peak_concentration = real(json, "peak_concentration"),
          .etendue_use = real(json, "etendue_use"),
          .peak_etendue_use = real(json, "peak_etendue_use")};
}

BudgetReply budget_of(const Json& json) {
  BudgetReply reply;
  optics::Budget& budget = reply.budget;
  for (const Json& cause : json.at("causes")) budget.costs.push_back(cost_of(cause));
  budget.as_is_W = real(json, "power_receiver_W");
  budget.as_is_error_W = real(json, "standard_error_W");
  budget.perfect_W = real(json, "perfect_W");
  budget.together_W = real(json, "together_W");
  budget.sum_of_gains_W = real(json, "sum_of_gains_W");
  budget.sum_of_losses_W = real(json, "sum_of_losses_W");
  budget.rms_radius_m = metres(json.at("spot_mm"), "rms");
  budget.quadrature_radius_m = metres(json.at("spot_mm"), "quadrature");
  budget.mean_way_m = real(json, "mean_way_m");
  budget.merit = merit_of(json.at("merit"));
  budget.advice = json.at("advice").get<std::vector<std::string>>();
  return reply;
}

// --- Form ---

constexpr std::array k_forms = {
    FormKind::as_is,  FormKind::flat,       FormKind::common_sphere, FormKind::common_paraboloid,
    FormKind::groups, FormKind::own_sphere, FormKind::own_piece};

optics::FormOption option_of(const Json& json) {
  optics::FormOption option;
  option.kind = by_key(json.at("form").get<std::string>(), k_forms, FormKind::as_is);
  option.moulds = json.at("moulds").get<int>();
  option.radius_m = json.at("radius_m").get<std::vector<double>>();
  option.spot_rms_m = metres(json, "spot_rms_mm");
  option.spot_r90_m = metres(json, "spot_r90_mm");
  option.receiver_W = real(json, "power_receiver_W");
  option.peak_concentration = real(json, "peak_concentration");
  option.least_sag_m = m_from_mm(json.at("sag_mm").at(0).get<double>());
  option.most_sag_m = m_from_mm(json.at("sag_mm").at(1).get<double>());
  option.mould = json.at("mould").get<std::vector<int>>();
  return option;
}

optics::BestForm best_of(const Json& json) {
  optics::BestForm best;
  best.id = dish::FacetId{json.at("id").get<std::string>()};
  const auto focus = json.at("focus_mm").get<std::array<double, 3>>();
  best.focus_m = {m_from_mm(focus[0]), m_from_mm(focus[1]), m_from_mm(focus[2])};
  best.distance_m = real(json, "distance_m");
  best.incidence_rad = base::rad_from_deg(real(json, "incidence_deg"));
  const Json& piece = json.at("piece");
  best.piece.focal_length_m = real(piece, "focal_length_m");
  best.piece.off_axis_m = metres(piece, "off_axis_mm");
  best.piece.meridian_rad = base::rad_from_deg(real(piece, "meridian_deg"));
  best.radius_along_m = real(json, "radius_along_m");
  best.radius_across_m = real(json, "radius_across_m");
  best.sphere_radius_m = real(json, "sphere_radius_m");
  best.flat_rms_m = metres(json.at("rms_mm"), "flat");
  best.sphere_rms_m = metres(json.at("rms_mm"), "sphere");
  best.piece_rms_m = metres(json.at("rms_mm"), "piece");
  best.sphere_sag_m = metres(json.at("sag_mm"), "sphere");
  best.piece_sag_m = metres(json.at("sag_mm"), "piece");
  return best;
}

base::Result<FormReply> forms_of(const Json& json) {
  FormReply reply;
  for (const Json& option : json.at("options")) reply.choice.options.push_back(option_of(option));
  for (const Json& facet : json.at("facets")) reply.choice.facets.push_back(best_of(facet));
  reply.choice.recommended = json.at("recommended").get<std::size_t>();
  if (reply.choice.recommended >= reply.choice.options.size()) {
    return base::Problem{"recommended", "none of the options", "the number of one"};
  }
  if (!json.contains("dish")) return reply;
  auto dish = dish_in(json);
  if (!dish) return dish.problems();
  reply.dish = std::move(dish).value();
  return reply;
}

// --- Optimise ---

optics::SearchFigures figures_of(const Json& json) {
  return {.receiver_W = real(json, "power_receiver_W"),
          .plane_W = real(json, "power_plane_W"),
          .intercept_factor = real(json, "intercept_factor"),
          .most_flux_W_m2 = real(json, "most_flux_W_m2"),
          .peak_W_m2 = real(json, "peak_W_m2"),
          .mean_concentration = real(json, "mean_concentration"),
          .uniformity = real(json, "uniformity")};
}

optics::SizeTrial trial_of(const Json& json) {
  return {.focal_length_m = real(json, "focal_length_m"),
          .magnification = real(json, "magnification"),
          .receiver_m = metres(json, "receiver_mm"),
          .receiver_W = real(json, "power_receiver_W"),
          .mean_concentration = real(json, "mean_concentration"),
          .is_possible = json.at("possible").get<bool>()};
}

base::Result<OptimiseReply> search_of(const Json& json) {
  auto dish = dish_in(json);
  if (!dish) return dish.problems();
  OptimiseReply reply;
  if (json.at("what").get<std::string>() == "aims") {
    auto& aims = reply.result.emplace<optics::AimResult>();
    for (const Json& each : json.at("aims")) {
      const auto aim = each.at("aim_mm").get<std::array<double, 2>>();
      aims.aim_m.emplace_back(m_from_mm(aim[0]), m_from_mm(aim[1]));
    }
    aims.held = json.at("held").get<std::size_t>();
    aims.limit_W_m2 = real(json, "limit_W_m2");
    aims.is_within_limit = json.at("within_limit").get<bool>();
    aims.before = figures_of(json.at("before"));
    aims.after = figures_of(json.at("after"));
    aims.dish = std::move(dish).value();
    return reply;
  }
  auto& sizes = reply.result.emplace<optics::SizeResult>();
  sizes.best = trial_of(json.at("best"));
  for (const Json& trial : json.at("trials")) sizes.trials.push_back(trial_of(trial));
  sizes.is_at_bound = json.at("at_bound").get<bool>();
  sizes.before = figures_of(json.at("before"));
  sizes.after = figures_of(json.at("after"));
  sizes.dish = std::move(dish).value();
  return reply;
}

Json pair_of(const optics::Between& between, double per_si) {
  return Json::array({between.least * per_si, between.most * per_si});
}

}  // namespace

std::string budget_request(std::string_view dish_text, const BudgetRequest& request) {
  Json json = request_of("budget", dish_text);
  json["rays"] = request.settings.rays;
  json["seed"] = request.settings.seed;
  put_sun(json, request.settings.tracking_error_rad);
  return to_dense_text(json);
}

std::string form_request(std::string_view dish_text, const FormRequest& request) {
  Json json = request_of("form", dish_text);
  json["most_groups"] = request.settings.most_groups;
  put_sun(json, request.settings.tracking_error_rad);
  if (request.take) {
    json["take"] = optics::key_of(*request.take);
    if (*request.take == FormKind::groups) json["take_groups"] = request.take_groups;
  }
  return to_dense_text(json);
}

std::string optimise_request(std::string_view dish_text, const OptimiseRequest& request) {
  Json json = request_of("optimise", dish_text);
  if (const auto* aims = std::get_if<optics::AimSettings>(&request.wish)) {
    json["what"] = "aims";
    if (aims->limit_W_m2) json["limit_W_m2"] = *aims->limit_W_m2;
    json["most_loss"] = aims->most_loss;
    json["map_cells"] = aims->map_cells;
    json["rounds"] = aims->rounds;
    put_sun(json, aims->tracking_error_rad);
    return to_dense_text(json);
  }
  const auto& sizes = std::get<optics::SizeSettings>(request.wish);
  json["what"] = "size";
  json["mean_concentration"] = sizes.mean_concentration;
  if (sizes.focal_length_m) json["focal_length_m"] = pair_of(*sizes.focal_length_m, 1.0);
  if (sizes.magnification) json["magnification"] = pair_of(*sizes.magnification, 1.0);
  if (sizes.receiver_m) json["receiver_mm"] = pair_of(*sizes.receiver_m, 1000.0);
  put_sun(json, sizes.tracking_error_rad);
  return to_dense_text(json);
}

base::Result<BudgetReply> read_budget_reply(std::string_view reply) {
  return read_with<BudgetReply>(reply, budget_of);
}

base::Result<FormReply> read_form_reply(std::string_view reply) {
  return read_with<FormReply>(reply, forms_of);
}

base::Result<OptimiseReply> read_optimise_reply(std::string_view reply) {
  return read_with<OptimiseReply>(reply, search_of);
}

}  // namespace tasks
