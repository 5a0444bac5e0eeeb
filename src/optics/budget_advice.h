// What to tell a person about a budget.
#pragma once

#include <string>
#include <vector>

#include "optics/budget.h"

namespace optics {

/// Sentences for a person, most important first: the gain that needs no new parts, then the best of
/// other mirrors and of another layout; gains within the noise or below 0.2 % are not told. Never
/// empty.
std::vector<std::string> advice_for(const Budget& budget);

}  // namespace optics
