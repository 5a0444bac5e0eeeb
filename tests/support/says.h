// Whether a message says something; where it does not, the test's report shows the message.
#pragma once

#include <doctest/doctest.h>

#include <string>

namespace support {

inline bool says(const std::string& text, const std::string& part) {
  const bool found = text.find(part) != std::string::npos;
  if (!found) MESSAGE(text);
  return found;
}

}  // namespace support
