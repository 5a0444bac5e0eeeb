// Keys that move the eye in the yard and the plate of the target card. They change nothing of the
// session, so they stand beside its command table.
#pragma once

#include <span>
#include <string_view>

#include "page/target_card/card.h"
#include "page/yard/yard.h"

namespace page {

struct ViewKey {
  const char* keys;
  const char* name;  ///< as the help sheet shows it
  void (*act)(yard::Yard&, target_card::Card&);
};

/// All of them, in the order of the help sheet.
std::span<const ViewKey> view_keys();

/// Does what the chord means; false when it means nothing here.
bool press_view_key(std::string_view chord, yard::Yard& yard, target_card::Card& card);

}  // namespace page
