// The order of the bench: figures of the whole, then each part of the dish.
#include "page/bench/lay_out_bench.h"

#include <fmt/format.h>
#include <imgui.h>

#include <string>

#include "base/units.h"
#include "dish/facts.h"
#include "page/bench/layout_rows.h"
#include "page/bench/receiver_rows.h"
#include "page/bench/secondary_rows.h"
#include "page/bench/sun_rows.h"
#include "session/figures.h"

namespace page {
namespace {

namespace act = session::act;
using dish::ranges::Quantity;

void show_figures(const session::Session& session) {
  const dish::Dish& dish = session.document.dish;
  const dish::Aperture aperture = dish::aperture_of(dish);
  const double diameter = 2.0 * aperture.rim_radius_m;
  // The facets' tilt makes their outlines a little narrower; the ledger counts them so.
  const optics::TraceResult* light = session::light_of(session);
  const double area_m2 = light != nullptr ? light->gross_aperture_m2 : aperture.area_m2;
  figure_row("facets", fmt::format("{}", dish.facets.size()));
  figure_row("aperture", fmt::format("{:.3f} m²", area_m2),
             "Area inside the facets' common outline, as the sun on the axis sees it");
  figure_row("mirror", fmt::format("{:.3f} m²", dish::mirror_area_m2(dish)),
             "Sum of the facets' own areas");
  figure_row("across", fmt::format("{:.3f} m", diameter),
             "Twice the distance from the axis to the furthest mirror edge");
  if (diameter > 0.0) {
    figure_row("f / across",
               fmt::format("{:.3f}", dish::focal_ratio(dish.focal_length_m, diameter)));
  }
  figure_row("rim angle", fmt::format("{:.1f}°", base::deg_from_rad(dish::rim_angle_rad(dish))),
             "Angle at the focus between the axis and the furthest mirror edge");
  figure_row("aperture / receiver", fmt::format("{:.0f}", dish::geometric_concentration(dish)),
             "Mean concentration if all light reached the receiver. Leaves out gaps, reflectance, "
             "shading and spillage; the Light stage counts them.");
  figure_row("sun on the aperture", fmt::format("{:.0f} W", dish.sun.dni_W_m2 * area_m2),
             "Before any loss");
}

void show_dish(const dish::Dish& dish, LayOutMemory& memory, session::Actions& actions) {
  number_row({"focal length", Quantity::focal_length, dish.focal_length_m,
              "Of the parent paraboloid. Facets, receiver and secondary stay where they are until "
              "they are laid out anew or moved."},
             memory.fields, actions, [](double si) { return dish::edit::SetFocalLength{si}; });
}

}  // namespace

void show_lay_out_bench(const session::Session& session, LayOutMemory& memory,
                        session::Actions& actions) {
  const dish::Dish& dish = session.document.dish;
  if (memory.of_dish != dish.name) memory = {.of_dish = dish.name};
  show_figures(session);
  section("Dish and sun");
  show_dish(dish, memory, actions);
  show_sun_rows(dish, memory.fields, actions);
  section("Receiver");
  show_receiver_rows(dish, memory.fields, actions);
  section("Secondary");
  show_secondary_rows(dish, memory.fields, actions);
  section("Lay facets anew");
  show_layout_rows(session, memory, actions);
}

}  // namespace page
