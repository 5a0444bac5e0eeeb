// Reads the wishes of a request for a new dish, and answers with its file.
#include <fmt/format.h>

#include <cmath>

#include "files/dish_write.h"
#include "tasks/codec.h"
#include "tasks/new_task.h"

namespace tasks {

using dish::ranges::Range;

base::Result<double> wish_in_si(dish::ranges::Quantity quantity, const std::string& place,
                                double value) {
  const Range& range = dish::ranges::of(quantity);
  const double si = dish::ranges::si_from(range.unit, value);
  if (dish::ranges::in_range(quantity, si)) return si;
  return base::Problem{place, fmt::format("{}", value), dish::ranges::range_text(quantity)};
}

namespace {

constexpr double k_any = 1e300;

void read_numbers(Settings& settings, NewRequest& request) {
  for (const NewNumber& wish : new_numbers()) {
    const auto value = settings.number(wish.key, -k_any, k_any);
    if (!value) continue;
    const auto si = wish_in_si(wish.quantity, std::string("request.") + wish.key, *value);
    if (si) {
      request.*wish.member = si.value();
    } else {
      settings.add(si.problems());
    }
  }
}

void read_lists(Settings& settings, NewRequest& request) {
  for (const NewList& wish : new_lists()) {
    const auto values = settings.numbers(wish.key, -k_any, k_any);
    if (!values) continue;
    std::vector<double> list;
    for (const double value : *values) {
      const auto si = wish_in_si(wish.quantity, std::string("request.") + wish.key, value);
      if (!si) settings.add(si.problems());
      list.push_back(si ? si.value() : 0.0);
    }
    request.*wish.member = std::move(list);
  }
}

}  // namespace

base::Result<std::string> answer_new(Settings& settings) {
  NewRequest request;
  if (const auto name = settings.text("name")) request.name = *name;
  for (const NewWord& wish : new_words()) {
    const auto word = settings.word(wish.key, wish.allowed);
    for (std::size_t k = 0; word && k < wish.allowed.size(); ++k) {
      if (wish.allowed[k] == *word) wish.set(request, k);
    }
  }
  read_numbers(settings, request);
  read_lists(settings, request);
  if (const base::Problems problems = settings.finish(); !problems.empty()) return problems;
  const auto dish = make_dish(request);
  if (!dish) return dish.problems();
  return files::write_dish(dish.value());
}

}  // namespace tasks
