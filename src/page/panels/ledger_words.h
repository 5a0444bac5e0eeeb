// The ledger's accounts in a person's words, in the order the light meets them.
#pragma once

#include <string>
#include <vector>

#include "optics/trace_result.h"

namespace page {

struct LedgerRow {
  const char* name;
  const char* hint;  ///< what the account holds
  double watts = 0.0;
  bool kept = false;  ///< true for the one account that is heat on the receiver
};

/// Every account after `incident`; the watts add up to it.
std::vector<LedgerRow> ledger_rows(const optics::Ledger& ledger);

/// "1 234 W", "1.23 kW", "0.45 W": three or four significant digits.
std::string watts_text(double watts);

}  // namespace page
