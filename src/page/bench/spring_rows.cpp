// The spring's numbers and what they mean at nominal.
#include "page/bench/spring_rows.h"

#include <fmt/format.h>

#include "adjusters/springs.h"
#include "base/units.h"
#include "dish/defaults.h"
#include "dish/dish.h"

namespace page {
namespace {

using dish::Spring;
using dish::ranges::Quantity;

void show_numbers(const Spring& spring, FieldMemory& memory, session::Actions& actions) {
  const auto row = [&](const char* label, Quantity quantity, double Spring::*member,
                       const char* hint) {
    number_row({label, quantity, spring.*member, hint}, memory, actions,
               [spring, member](double si) {
                 Spring changed = spring;
                 changed.*member = si;
                 return dish::edit::UpsertSpring{changed};
               });
  };
  row("free length", Quantity::free_length, &Spring::free_length_m, "Unloaded, as bought");
  row("solid length", Quantity::solid_length, &Spring::solid_length_m, "Coil on coil");
  row("installed", Quantity::installed_length, &Spring::installed_length_m,
      "Its length with the screw at nominal");
  row("rate", Quantity::spring_rate, &Spring::rate_N_m, "Force for each millimetre");
  row("least force", Quantity::least_force, &Spring::least_force_N,
      "Below this the facet is not held");
  if (const auto on = switch_row("pushes to sun", spring.pushes_to_sun,
                                 "On: the spring pushes the facet away from the bracket. Off: it "
                                 "pulls the facet back onto the screws.")) {
    Spring changed = spring;
    changed.pushes_to_sun = *on;
    actions.push_back(session::act::Change{dish::edit::UpsertSpring{changed}});
  }
  const adjusters::SpringReading at_nominal = adjusters::spring_at(&spring, 0.0);
  figure_row("at nominal",
             fmt::format("{:.1f} N, {}", at_nominal.force_N, adjusters::to_text(at_nominal.state)),
             "Force of one spring with its screw at nominal");
}

}  // namespace

void show_spring_rows(const dish::Dish& dish, const dish::Mount& mount, FieldMemory& memory,
                      session::Actions& actions) {
  const Spring* spring = dish::find_spring(dish, mount.spring);
  if (spring != nullptr) {
    show_numbers(*spring, memory, actions);
    return;
  }
  remark("No spring is described: only the screws' own travel is watched.");
  if (wide_button("Describe a spring")) {
    dish::Mount changed = mount;
    changed.spring = dish::default_spring().name;
    actions.push_back(session::act::Change{dish::edit::UpsertSpring{dish::default_spring()}});
    actions.push_back(session::act::Change{dish::edit::UpsertMount{changed}});
  }
}

void add_default_mount(const dish::Dish& dish, session::Actions& actions) {
  const dish::Mount mount = dish::default_mount();
  actions.push_back(session::act::BeginDrag{"Add a mount"});
  actions.push_back(session::act::Change{dish::edit::UpsertSpring{dish::default_spring()}});
  actions.push_back(session::act::Change{dish::edit::UpsertMount{mount}});
  for (const dish::Facet& facet : dish.facets) {
    actions.push_back(session::act::Change{dish::edit::SetFacetMount{facet.id, mount.name}});
  }
  actions.push_back(session::act::EndDrag{});
}

}  // namespace page
