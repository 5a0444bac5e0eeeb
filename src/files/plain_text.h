// Small helpers for text in messages and tables: shortening, UTF-8, and the closest of some names.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace files {

/// At most about 40 bytes of a text, cut between characters and ended with "..."; control
/// characters become spaces. For messages.
std::string shortened(std::string_view text);

/// True when the bytes are well-formed UTF-8 (RFC 3629: shortest forms, no surrogates).
bool is_utf8(std::string_view bytes);

/// Number of characters (code points) of UTF-8 text; stray bytes count as one each.
std::size_t count_characters(std::string_view text);

/// Text without a UTF-8 byte-order mark.
std::string_view without_mark(std::string_view bytes);

/// How many single-byte changes (insert, delete, replace) take one name to the other, letters
/// compared without case. Stops counting beyond `most` and then returns most + 1.
std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t most);

/// The name closest to `wanted` within a third of its length (at least one change); empty when none
/// is. The first of equally close ones.
std::string closest_name(std::string_view wanted, const std::vector<std::string>& names);

}  // namespace files
