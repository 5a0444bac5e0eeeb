// A whole dish inside the page's own address, behind the '#': shared without a server.
#pragma once

#include <optional>
#include <string>

namespace platform {

/// What an opened link held: the text, or a sentence why it could not be read.
struct LinkedText {
  std::string text;
  std::string trouble;
};

/// A finished link, on its way to another person.
struct MadeLink {
  std::string address;
  bool copied = false;  ///< it is on the clipboard
};

/// Packs text into a link to this page and copies it. The result comes through take_made_link().
void make_link(const std::string& text);

/// The link asked for, once it is ready.
[[nodiscard]] std::optional<MadeLink> take_made_link();

/// The text of the link this page was opened with (or that was entered since), once.
[[nodiscard]] std::optional<LinkedText> take_linked_text();

}  // namespace platform
