// Each row changes one thing of the receiver and leaves the rest.
#include "page/bench/receiver_rows.h"

#include <variant>

#include "dish/defaults.h"

namespace page {
namespace {

using dish::Receiver;
using dish::ranges::Quantity;

/// An edit that changes a copy of the receiver with the new value.
template <class Change>
std::function<dish::Edit(double)> changing(const Receiver& receiver, Change change) {
  return [receiver, change](double si) {
    Receiver changed = receiver;
    change(changed, si);
    return dish::edit::SetReceiver{changed};
  };
}

void show_shape(const Receiver& receiver, FieldMemory& memory, session::Actions& actions) {
  const bool disc = std::holds_alternative<dish::DiscReceiver>(receiver.shape);
  if (const auto chosen = choice_row("shape", {"disc", "rectangle"}, disc ? 0 : 1)) {
    Receiver changed = receiver;
    if (*chosen == 0) changed.shape = dish::DiscReceiver{};
    if (*chosen == 1) changed.shape = dish::RectangleReceiver{};
    actions.push_back(session::act::Change{dish::edit::SetReceiver{changed}});
  }
  if (disc) {
    number_row({"diameter", Quantity::receiver_diameter,
                std::get<dish::DiscReceiver>(receiver.shape).diameter_m},
               memory, actions, changing(receiver, [](Receiver& r, double si) {
                 r.shape = dish::DiscReceiver{si};
               }));
    return;
  }
  const auto rectangle = std::get<dish::RectangleReceiver>(receiver.shape);
  number_row({"width", Quantity::receiver_width, rectangle.width_m}, memory, actions,
             changing(receiver, [rectangle](Receiver& r, double si) {
               r.shape = dish::RectangleReceiver{si, rectangle.height_m};
             }));
  number_row({"height", Quantity::receiver_height, rectangle.height_m}, memory, actions,
             changing(receiver, [rectangle](Receiver& r, double si) {
               r.shape = dish::RectangleReceiver{rectangle.width_m, si};
             }));
}

}  // namespace

void show_receiver_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions) {
  const Receiver& receiver = dish.receiver;
  show_shape(receiver, memory, actions);
  number_row({"above vertex", Quantity::receiver_centre, receiver.centre_m.z,
              "Along the dish's axis, from the vertex toward the sun"},
             memory, actions,
             changing(receiver, [](Receiver& r, double si) { r.centre_m.z = si; }));
  const bool faces_down = receiver.lit_normal.z < 0.0;
  if (const auto chosen =
          choice_row("lit side faces", {"the facets", "the sun"}, faces_down ? 0 : 1,
                     "A receiver at the focus faces the facets; one behind a "
                     "secondary faces the sun")) {
    Receiver changed = receiver;
    changed.lit_normal = {0.0, 0.0, *chosen == 0 ? -1.0 : 1.0};
    actions.push_back(session::act::Change{dish::edit::SetReceiver{changed}});
  }
  number_row({"absorptance", Quantity::absorptance, receiver.absorptance,
              "Share of the light that its surface takes"},
             memory, actions,
             changing(receiver, [](Receiver& r, double si) { r.absorptance = si; }));
  if (const auto on =
          switch_row("shades facets", receiver.shades, "Its back stops sunlight on the way in")) {
    Receiver changed = receiver;
    changed.shades = *on;
    actions.push_back(session::act::Change{dish::edit::SetReceiver{changed}});
  }
}

}  // namespace page
