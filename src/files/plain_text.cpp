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

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

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

std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t most) {
  const std::size_t longer = std::max(a.size(), b.size());
  if (longer - std::min(a.size(), b.size()) > most) return most + 1;
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (lower(a[i - 1]) == lower(b[j - 1]) ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({replaced, row[j] + 1, row[j - 1] + 1});
    }
  }
  return std::min(row.back(), most + 1);
}

std::string closest_name(std::string_view wanted, const std::vector<std::string>& names) {
  // A name of absurd length is no slip of the hand, and would only cost time.
  if (wanted.size() > 200) return "";
  std::size_t best = std::max<std::size_t>(1, wanted.size() / 3) + 1;
  std::string closest;
  for (const std::string& name : names) {
    const std::size_t distance = edit_distance(wanted, name, best - 1);
    if (distance < best) {
      best = distance;
      closest = name;
    }
    if (best == 0) break;
  }
  return closest;
}

}  // namespace files
