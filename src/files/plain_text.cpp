// Text helpers for messages and tables.
#include "files/plain_text.h"

#include <algorithm>

namespace files {
namespace {

constexpr std::size_t k_shortened_bytes = 40;

unsigned byte_at(std::string_view text, std::size_t i) {
  return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
}

bool is_continuation(unsigned byte) { return (byte & 0xC0U) == 0x80U; }

/// Length of the well-formed character at `i`; 0 when it is not well-formed.
std::size_t character_length(std::string_view text, std::size_t i) {
  const unsigned first = byte_at(text, i);
  const unsigned second = byte_at(text, i + 1);
  if (first < 0x80U) return 1;
  if (first < 0xC2U || first > 0xF4U || !is_continuation(second)) return 0;
  if (first < 0xE0U) return 2;
  if (!is_continuation(byte_at(text, i + 2))) return 0;
  if (first < 0xF0U) {
    const bool too_short = first == 0xE0U && second < 0xA0U;
    const bool surrogate = first == 0xEDU && second >= 0xA0U;
    return too_short || surrogate ? 0 : 3;
  }
  if (!is_continuation(byte_at(text, i + 3))) return 0;
  const bool too_short = first == 0xF0U && second < 0x90U;
  const bool beyond = first == 0xF4U && second >= 0x90U;
  return too_short || beyond ? 0 : 4;
}

}  // namespace

std::string shortened(std::string_view text) {
  std::size_t end = std::min(text.size(), k_shortened_bytes);
  while (end > 0 && end < text.size() && is_continuation(byte_at(text, end))) --end;
  std::string out(text.substr(0, end));
  const auto is_control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
  std::replace_if(out.begin(), out.end(), is_control, ' ');
  return end < text.size() ? out + "..." : out;
}

bool is_utf8(std::string_view bytes) {
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = character_length(bytes, i);
    if (length == 0) return false;
    i += length;
  }
  return true;
}

std::size_t count_characters(std::string_view text) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++count) {
    i += std::max<std::size_t>(1, character_length(text, i));
  }
  return count;
}

std::string_view without_mark(std::string_view bytes) {
  constexpr std::string_view k_mark = "\xEF\xBB\xBF";
  if (bytes.substr(0, k_mark.size()) == k_mark) bytes.remove_prefix(k_mark.size());
  return bytes;
}

}  // namespace files
