// Bytes that arrive: dropped, chosen, pasted, from a link or from the demo menu. Whatever they
// are, nothing that is open gets lost.
#pragma once

#include <string>
#include <string_view>

#include "session/session.h"

namespace session {

/// What bytes look like from outside, before anything reads them.
enum class Arrival { nothing, dish, spots, sag_map, picture, unknown };

/// Goes by the first bytes, then by the name's ending. Looks at no more than the first kilobytes.
Arrival arrival_of(std::string_view name, std::string_view bytes);

/// A dish replaces the open one as one undo step, spots become a new round, a sag map becomes the
/// selected facet's own or, where the dish has one type of facets only, that type's; all else is a
/// notice that says in plain words what is the matter.
void take_bytes(Session& session, const std::string& name, std::string_view bytes);

/// The name for what came without one.
inline constexpr const char* k_pasted_name = "pasted text";

}  // namespace session
