// Escapes, and the frame around a page.
#include "tasks/html.h"

#include <fmt/format.h>

namespace tasks {

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default: {
        const auto code = static_cast<unsigned char>(c);
        if (code >= 0x20 || c == '\n') out += c;
      }
    }
  }
  return out;
}

std::string html_page(std::string_view title, std::string_view style, std::string_view body) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>{}</title>\n"
      "<style>\n{}</style>\n</head>\n<body>\n{}</body>\n</html>\n",
      escaped(title), style, body);
}

std::string drawn(double mm) {
  std::string text = fmt::format("{:.3f}", mm);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

}  // namespace tasks
