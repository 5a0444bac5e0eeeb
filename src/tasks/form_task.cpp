// Runs the choice of forms and lays it out as JSON, report and CSV.
#include "tasks/form_task.h"

#include <fmt/format.h>

#include <array>
#include <utility>

#include "base/units.h"
#include "dish/checks.h"
#include "files/dish_write.h"
#include "tasks/codec.h"
#include "tasks/json.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;
using optics::BestForm;
using optics::FormKind;
using optics::FormOption;

constexpr std::array<FormKind, 6> k_takes{
    FormKind::flat,   FormKind::common_sphere, FormKind::common_paraboloid,
    FormKind::groups, FormKind::own_sphere,    FormKind::own_piece};

Json option_json(const FormOption& option) {
  Json radii = Json::array();
  for (const double radius : option.radius_m) radii.push_back(number(radius));
  Json moulds = Json::array();
  for (const int mould : option.mould) moulds.push_back(mould);
  return Json{
      {"form", optics::key_of(option.kind)},
      {"moulds", option.moulds},
      {"radius_m", std::move(radii)},
      {"spot_rms_mm", number(mm_from_m(option.spot_rms_m))},
      {"spot_r90_mm", number(mm_from_m(option.spot_r90_m))},
      {"power_receiver_W", number(option.receiver_W)},
      {"peak_concentration", number(option.peak_concentration)},
      {"sag_mm", {number(mm_from_m(option.least_sag_m)), number(mm_from_m(option.most_sag_m))}},
      {"mould", std::move(moulds)}};
}

Json facet_json(const BestForm& form) {
  return Json{
      {"id", form.id.text},
      {"focus_mm", numbers(form.focus_m, 1000.0)},
      {"distance_m", number(form.distance_m)},
      {"incidence_deg", number(base::deg_from_rad(form.incidence_rad))},
      {"piece",
       {{"focal_length_m", number(form.piece.focal_length_m)},
        {"off_axis_mm", number(mm_from_m(form.piece.off_axis_m.value_or(0.0)))},
        {"meridian_deg", number(base::deg_from_rad(form.piece.meridian_rad.value_or(0.0)))}}},
      {"radius_along_m", number(form.radius_along_m)},
      {"radius_across_m", number(form.radius_across_m)},
      {"sphere_radius_m", number(form.sphere_radius_m)},
      {"rms_mm",
       {{"flat", number(mm_from_m(form.flat_rms_m))},
        {"sphere", number(mm_from_m(form.sphere_rms_m))},
        {"piece", number(mm_from_m(form.piece_rms_m))}}},
      {"sag_mm",
       {{"sphere", number(mm_from_m(form.sphere_sag_m))},
        {"piece", number(mm_from_m(form.piece_sag_m))}}}};
}

Table options_table(const optics::FormChoice& choice) {
  Table table{.columns = {{"form", false},
                          {"moulds"},
                          {"W"},
                          {"spot rms mm"},
                          {"holds 90 % mm"},
                          {"peak suns"},
                          {"sag at the edge mm"}}};
  for (const FormOption& option : choice.options) {
    const std::string low = fixed(mm_from_m(option.least_sag_m), 3);
    const std::string high = fixed(mm_from_m(option.most_sag_m), 3);
    table.rows.push_back({optics::words_of(option.kind), fmt::format("{}", option.moulds),
                          fixed(option.receiver_W, 1), fixed(mm_from_m(option.spot_rms_m), 2),
                          fixed(mm_from_m(option.spot_r90_m), 2),
                          fixed(option.peak_concentration, 1),
                          low == high ? low : low + " to " + high});
  }
  return table;
}

std::string recommendation(const optics::FormChoice& choice) {
  const FormOption& option = choice.options[choice.recommended];
  std::string text = fmt::format("Within 1 % of the most watts with the fewest moulds: {}",
                                 optics::words_of(option.kind));
  for (std::size_t k = 0; k < option.radius_m.size(); ++k) {
    text += fmt::format("{} {} m", k == 0 ? ", radius" : ",", significant(option.radius_m[k], 5));
  }
  return text + ".\n";
}

/// Watts by the dish's own reckoning of the choice a person takes.
base::Result<dish::Dish> taken(const dish::Dish& dish, const FormRequest& request,
                               const optics::FormChoice& choice) {
  for (const FormOption& option : choice.options) {
    if (option.kind != *request.take) continue;
    if (option.kind == FormKind::groups && option.moulds != request.take_groups) continue;
    dish::Dish changed = optics::with_surfaces(dish, option.surface);
    if (base::Problems errors = dish::errors_of(changed); !errors.empty()) return errors;
    return changed;
  }
  return base::Problem{"take_groups", fmt::format("{}", request.take_groups),
                       "a number of moulds from 2 up that is fewer than the facets' own spheres "
                       "and at most most_groups"};
}

}  // namespace

base::Result<FormReply> run(const dish::Dish& dish, const FormRequest& request,
                            const base::Progress& progress) {
  auto choice = optics::choose_forms(dish, request.settings, progress);
  if (!choice) return choice.problems();
  FormReply reply{.choice = std::move(choice).value(), .dish = std::nullopt};
  if (!request.take) return reply;
  auto changed = taken(dish, request, reply.choice);
  if (!changed) return changed.problems();
  reply.dish = std::move(changed).value();
  return reply;
}

std::string json_text(const FormReply& reply) {
  Json options = Json::array();
  for (const FormOption& option : reply.choice.options) options.push_back(option_json(option));
  Json facets = Json::array();
  for (const BestForm& form : reply.choice.facets) facets.push_back(facet_json(form));
  Json json{{"options", std::move(options)},
            {"recommended", reply.choice.recommended},
            {"facets", std::move(facets)}};
  if (reply.dish) json["dish"] = Json::parse(files::write_dish(*reply.dish));
  return to_text(json) + "\n";
}

std::string report_text(const FormReply& reply) {
  Table facets{.columns = {{"facet", false},
                           {"to focus m"},
                           {"incidence deg"},
                           {"best sphere R m"},
                           {"its rms mm"},
                           {"piece f m"},
                           {"off axis mm"},
                           {"R along m"},
                           {"R across m"}}};
  for (const BestForm& form : reply.choice.facets) {
    facets.rows.push_back({form.id.text, fixed(form.distance_m, 4),
                           fixed(base::deg_from_rad(form.incidence_rad), 2),
                           fixed(form.sphere_radius_m, 4), fixed(mm_from_m(form.sphere_rms_m), 3),
                           fixed(form.piece.focal_length_m, 4),
                           fixed(mm_from_m(form.piece.off_axis_m.value_or(0.0)), 1),
                           fixed(form.radius_along_m, 4), fixed(form.radius_across_m, 4)});
  }
  return to_text(options_table(reply.choice)) + "\n" + recommendation(reply.choice) +
         "\nWatts and spots are of the whole dish with its errors, screws at nominal. The rms of a "
         "facet is\nthat of a point sun's light about its aim.\n\n" +
         to_text(facets);
}

std::string csv_text(const FormReply& reply) {
  std::vector<std::vector<std::string>> rows;
  for (const BestForm& form : reply.choice.facets) {
    rows.push_back({form.id.text, exact(form.distance_m),
                    exact(base::deg_from_rad(form.incidence_rad)), exact(form.sphere_radius_m),
                    exact(mm_from_m(form.sphere_rms_m)), exact(form.piece.focal_length_m),
                    exact(mm_from_m(form.piece.off_axis_m.value_or(0.0))),
                    exact(base::deg_from_rad(form.piece.meridian_rad.value_or(0.0))),
                    exact(form.radius_along_m), exact(form.radius_across_m)});
  }
  return to_csv({"facet", "distance_m", "incidence_deg", "sphere_radius_m", "sphere_rms_mm",
                 "piece_focal_length_m", "piece_off_axis_mm", "piece_meridian_deg",
                 "radius_along_m", "radius_across_m"},
                rows);
}

const std::vector<std::string>& form_take_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> made;
    for (const FormKind kind : k_takes) made.emplace_back(optics::key_of(kind));
    return made;
  }();
  return words;
}

std::optional<FormKind> form_take(const std::string& word) {
  for (const FormKind kind : k_takes) {
    if (word == optics::key_of(kind)) return kind;
  }
  return std::nullopt;
}

base::Result<std::string> answer_form(const Call& call) {
  FormRequest request;
  if (const auto most = call.settings.whole("most_groups", 1, 12)) {
    request.settings.most_groups = static_cast<int>(*most);
  }
  request.settings.tracking_error_rad = read_sun_place(call.settings);
  if (const auto take = call.settings.word("take", form_take_words()))
    request.take = form_take(*take);
  if (const auto groups = call.settings.whole("take_groups", 2, 12)) {
    request.take_groups = static_cast<int>(*groups);
  }
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto reply = run(call.dish, request, call.progress);
  if (!reply) return reply.problems();
  return json_text(reply.value());
}

}  // namespace tasks
