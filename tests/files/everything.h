// A dish that uses every alternative the file knows, and texts that ask for every key.
#pragma once

#include <string>
#include <vector>

#include "dish/dish.h"

namespace everything {

/// No errors, but a dish nobody would build: every outline, surface, blocker and light.
dish::Dish dish();

/// The same with every sun, finish and form error between them.
std::vector<dish::Dish> mirrors_and_suns();

/// Files that between them use every key of every kind.
std::vector<std::string> texts();

/// The smallest file: its first lines and a layout.
std::string minimal_text();

}  // namespace everything
