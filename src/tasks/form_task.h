// The answer "form": the best surface of every facet, and what simpler choices would give.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "optics/form_choice.h"

namespace tasks {

struct FormRequest {
  optics::FormSettings settings;
  std::optional<optics::FormKind> take;  ///< also answer the dish with this choice's surfaces
  int take_groups = 2;                   ///< moulds, when `take` is groups
};

struct FormReply {
  optics::FormChoice choice;
  std::optional<dish::Dish> dish;  ///< when one was asked for
};

/// Problems: those of optics::choose_forms, groups that were not tried, "cancelled".
base::Result<FormReply> run(const dish::Dish& dish, const FormRequest& request,
                            const base::Progress& progress = {});

/// JSON: options [{form, moulds, radius_m, spot_rms_mm, spot_r90_mm, power_receiver_W,
/// peak_concentration, sag_mm [least, most], mould [number of each facet]}], recommended,
/// facets [{id, focus_mm, distance_m, incidence_deg, piece {...}, sphere_radius_m, ...}], and
/// "dish", the changed file's object, when one was asked for.
std::string json_text(const FormReply& reply);
std::string report_text(const FormReply& reply);

/// One row for each facet.
std::string csv_text(const FormReply& reply);

/// Words for `take`: the keys of every form but the present one; and a word's form.
const std::vector<std::string>& form_take_words();
std::optional<optics::FormKind> form_take(const std::string& word);

}  // namespace tasks
