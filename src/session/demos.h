// The demo dishes that come with the tool, part of the program itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"

namespace session {

struct Demo {
  std::string name;        ///< as the menu shows it
  std::string file_name;   ///< as it would be saved
  std::string_view bytes;  ///< its dish file
};

/// All demos in the order of the menu: the one a first visit opens, then by name. Not empty.
std::vector<Demo> demos();

struct ReadDemo {
  dish::Dish dish;
  std::string file_name;
};

/// The dish of a demo. Problem: there is none of this name.
base::Result<ReadDemo> read_demo(const std::string& name);

}  // namespace session
