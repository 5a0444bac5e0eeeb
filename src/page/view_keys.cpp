// One line a key.
#include "page/view_keys.h"

#include <array>
#include <tuple>
#include <type_traits>

namespace page {
namespace {

using target_card::Card;
using yard::Yard;

template <int step>
void next_view(Yard& yard, Card& /*card*/) {
  const auto& choices = yard::view_choices();
  constexpr int count = 4;
  static_assert(count == std::tuple_size_v<std::decay_t<decltype(choices)>>);
  int at = step > 0 ? -1 : 0;
  for (int i = 0; i < count; ++i) {
    if (yard.view == choices[static_cast<std::size_t>(i)].view) at = i;
  }
  yard::look_from(yard, choices[static_cast<std::size_t>((at + step + count) % count)].view);
}

template <int right, int up>
void turn(Yard& yard, Card& /*card*/) {
  yard::step_eye(yard, right, up);
}

template <int steps>
void nearer(Yard& yard, Card& /*card*/) {
  yard::step_nearer(yard, 2.0 * steps);
}

void other_look(Yard& /*yard*/, Card& card) {
  using widgets::MapLook;
  card.look = card.look == MapLook::light ? MapLook::ramp : MapLook::light;
}

void fit_plate(Yard& /*yard*/, Card& card) { card.view = target_card::PlateView(); }

constexpr std::array<ViewKey, 10> k_view_keys{{
    {"V", "Look from the next place", next_view<1>},
    {"Shift+V", "Look from the place before", next_view<-1>},
    {"Shift+Left", "Walk round the dish to the left", turn<-1, 0>},
    {"Shift+Right", "Walk round the dish to the right", turn<1, 0>},
    {"Shift+Up", "Raise the eye", turn<0, 1>},
    {"Shift+Down", "Lower the eye", turn<0, -1>},
    {"Z", "Go nearer", nearer<1>},
    {"Shift+Z", "Go farther", nearer<-1>},
    {"G", "Target plane as light or as map", other_look},
    {"Shift+G", "Fit the target plane", fit_plate},
}};

}  // namespace

std::span<const ViewKey> view_keys() { return k_view_keys; }

bool press_view_key(std::string_view chord, Yard& yard, Card& card) {
  for (const ViewKey& key : k_view_keys) {
    if (chord != key.keys) continue;
    key.act(yard, card);
    return true;
  }
  return false;
}

}  // namespace page
