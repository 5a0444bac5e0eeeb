// Cards of the printed alignment sheet.
#pragma once

#include <string>

#include "align/correct.h"
#include "dish/dish.h"

namespace tasks {

/// Where a person stands to turn a facet's screws: the side that most of them are turned from.
dish::Side side_of_screws(const align::Correction& facet);

/// The card of one facet: number in the order of work, drawing, words, boxes.
std::string sheet_card(const dish::Dish& dish, const align::Correction& facet, dish::Side side,
                       std::size_t number);

/// Style of the cards.
const char* sheet_card_style();

}  // namespace tasks
