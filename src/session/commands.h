// The one table of commands: keys, the help sheet, menus and tests all read it.
#pragma once

#include <span>
#include <string_view>

#include "session/session.h"

namespace session {

enum class CommandGroup { dish, history, look, facets, screws, rounds, on_site, light };

struct Command {
  const char* name;    ///< as shown, and unique
  CommandGroup group;  ///< heading on the help sheet
  const char* keys;  ///< "Ctrl+Shift+Z", "N", "?", "Escape"; a letter alone is typed without Shift
  const char* also;  ///< a second way to type it; empty for none
  bool (*possible)(const Session&);
  Actions (*actions)(const Session&);  ///< only called while possible
};

/// All commands, in the order of the help sheet.
std::span<const Command> commands();

/// Heading of a group.
const char* to_text(CommandGroup group);

/// The command that keys mean now: the first possible one with them; nullptr when there is none.
/// Several may share keys when they are never wished for at the same time (Escape).
const Command* command_of_keys(const Session& session, std::string_view keys);

/// The command of a name; nullptr when there is none.
const Command* find_command(std::string_view name);

}  // namespace session
