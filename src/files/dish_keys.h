// Which keys the dish reader knows, for the test that compares them with the published schema.
#pragma once

#include <set>
#include <string>
#include <string_view>

namespace files {

/// Every "kind/key" that is asked for while this file is read, e.g. "adjuster/pitch_mm". Kinds are
/// those of web/dish.schema.json; the keys of an alternative (a disc, a polygon) are asked for only
/// where the file chooses it.
std::set<std::string> keys_asked_for(std::string_view bytes);

}  // namespace files
