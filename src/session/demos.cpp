// Names the embedded dish files and reads them when they are wanted.
#include "session/demos.h"

#include <algorithm>

#include "base/check.h"
#include "embedded/demo_files.h"
#include "files/dish_read.h"
#include "session/session.h"

namespace session {
namespace {

constexpr std::string_view k_first_demo = "Larch Refuge";

/// "larch_refuge.dish.json" is shown as "Larch Refuge".
std::string shown_name(std::string_view file_name) {
  std::string name(file_name.substr(0, file_name.find('.')));
  bool starts_word = true;
  for (char& letter : name) {
    if (letter == '_' || letter == '-') letter = ' ';
    if (starts_word && letter >= 'a' && letter <= 'z') letter = static_cast<char>(letter - 32);
    starts_word = letter == ' ';
  }
  return name;
}

}  // namespace

std::vector<Demo> demos() {
  std::vector<Demo> all;
  for (const embedded::File& file : embedded::demo_files())
    all.push_back({shown_name(file.name), std::string(file.name), file.bytes});
  CHECK(!all.empty(), "the program carries its demo dishes");
  std::sort(all.begin(), all.end(), [](const Demo& a, const Demo& b) { return a.name < b.name; });
  std::stable_partition(all.begin(), all.end(),
                        [](const Demo& demo) { return demo.name == k_first_demo; });
  return all;
}

base::Result<ReadDemo> read_demo(const std::string& name) {
  std::string names;
  for (const Demo& demo : demos()) {
    if (demo.name == name) {
      auto read = files::read_dish(demo.bytes, demo.file_name);
      CHECK(read.ok(), "a demo dish reads without a problem");
      return ReadDemo{std::move(read).value().dish, demo.file_name};
    }
    names += (names.empty() ? "" : ", ") + demo.name;
  }
  return base::Problem{"demo", name, "one of " + names};
}

std::vector<std::string> demo_names() {
  std::vector<std::string> names;
  for (Demo& demo : demos()) names.push_back(std::move(demo.name));
  return names;
}

}  // namespace session
