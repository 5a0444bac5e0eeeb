// Pages that are printed: one file each, nothing fetched from elsewhere.
#pragma once

#include <string>
#include <string_view>

namespace tasks {

/// Text as it may stand in HTML and SVG, in an attribute or between tags: & < > " and ' escaped,
/// control characters other than line breaks left out.
std::string escaped(std::string_view text);

/// A whole page with its style inside. `title` is escaped here; style and body stand as they are.
std::string html_page(std::string_view title, std::string_view style, std::string_view body);

/// A coordinate of a drawing in mm, at most three decimals, without trailing zeros.
std::string drawn(double mm);

}  // namespace tasks
