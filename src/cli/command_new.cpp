// facetwright new: a dish file from a few wishes.
#include <fmt/format.h>

#include "cli/commands.h"
#include "files/dish_write.h"
#include "tasks/new_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

constexpr Limits k_any{-1e300, 1e300};

/// What the help calls a value: the unit of its key.
std::string argument_of(Quantity quantity) {
  const std::string unit = dish::ranges::unit_text(dish::ranges::of(quantity).unit);
  return unit.empty() ? "N" : unit;
}

void read_words(const Given& given, Collected& collected, tasks::NewRequest& request) {
  for (const tasks::NewWord& wish : tasks::new_words()) {
    const auto word = collected.take(word_of(given, option_name(wish.key), wish.allowed));
    for (std::size_t k = 0; word && k < wish.allowed.size(); ++k) {
      if (wish.allowed[k] == *word) wish.set(request, k);
    }
  }
}

void read_numbers(const Given& given, Collected& collected, tasks::NewRequest& request) {
  for (const tasks::NewNumber& wish : tasks::new_numbers()) {
    const std::string name = option_name(wish.key);
    const auto value = collected.take(number_of(given, name, k_any));
    if (!value) continue;
    const auto si = tasks::wish_in_si(wish.quantity, name, *value);
    if (si) {
      request.*wish.member = si.value();
    } else {
      collected.add(si.problems());
    }
  }
}

void read_lists(const Given& given, Collected& collected, tasks::NewRequest& request) {
  for (const tasks::NewList& wish : tasks::new_lists()) {
    const std::string name = option_name(wish.key);
    const auto values = collected.take(numbers_of(given, name, 0, k_any));
    if (!values) continue;
    std::vector<double> list;
    for (const double value : *values) {
      const auto si = tasks::wish_in_si(wish.quantity, name, value);
      if (!si) collected.add(si.problems());
      list.push_back(si ? si.value() : 0.0);
    }
    request.*wish.member = std::move(list);
  }
}

}  // namespace

std::vector<Option> new_options() {
  std::vector<Option> options{{"--name", "TEXT", "Name of the dish; default New dish."},
                              out_option()};
  for (const tasks::NewWord& wish : tasks::new_words()) {
    options.push_back({option_name(wish.key), "WORD",
                       fmt::format("{} One of {}.", wish.words, fmt::join(wish.allowed, ", "))});
  }
  for (const tasks::NewNumber& wish : tasks::new_numbers()) {
    std::string help = fmt::format("{} {}.", wish.words, dish::ranges::range_text(wish.quantity));
    if (wish.only_with) help += fmt::format(" Only for {}.", tasks::to_text(*wish.only_with));
    options.push_back({option_name(wish.key), argument_of(wish.quantity), help});
  }
  for (const tasks::NewList& wish : tasks::new_lists()) {
    options.push_back(
        {option_name(wish.key), argument_of(wish.quantity) + ",...",
         fmt::format("{} {}. Only for {}.", wish.words, dish::ranges::range_text(wish.quantity),
                     tasks::to_text(wish.only_with))});
  }
  return options;
}

int carry_out_new(const Given& given, const Console& console) {
  tasks::NewRequest request;
  Collected collected;
  if (const auto name = given.text("--name")) request.name = *name;
  read_words(given, collected, request);
  read_numbers(given, collected, request);
  read_lists(given, collected, request);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = tasks::make_dish(request);
  if (!dish) return report(console, as_options(dish.problems(), new_options()));
  return deliver(console, given, files::write_dish(dish.value()));
}

}  // namespace cli
