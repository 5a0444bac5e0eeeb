// Numbers as a person reads them: sensible digits, a true minus, the unit that fits.
#pragma once

#include <string>

namespace widgets {

/// `digits` significant figures without an exponent, the true minus sign, and thin spaces between
/// thousands. Not a number reads as a dash.
std::string figures(double value, int digits);

/// A fixed number of decimals.
std::string decimals(double value, int places);

/// A round number without needless zeros: "50", "7.5", "0.25". Up to three figures.
std::string plain(double value);

/// With unit: "812 W", "1.24 kW".
std::string watts(double value_W);

/// "64.1 kW/m²", "812 W/m²".
std::string flux(double value_W_m2);

/// Millimetres with one decimal below 100.
std::string millimetres(double value_m);

/// "81.3 %".
std::string percent(double share);

/// "1.2 million", "250 000".
std::string count(double value);

}  // namespace widgets
