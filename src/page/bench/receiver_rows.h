// Rows that place and size the receiver.
#pragma once

#include "page/bench/fields.h"

namespace page {

void show_receiver_rows(const dish::Dish& dish, FieldMemory& memory, session::Actions& actions);

}  // namespace page
