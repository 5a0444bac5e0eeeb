// Small helpers for text in messages and tables: shortening and UTF-8.
#pragma once

#include <string>
#include <string_view>

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

}  // namespace files
