// Which keys the dish reader knows, for the test that compares them with the published schema.
#pragma once

#include <string_view>

#include "files/read_log.h"

namespace files {

/// Every key that is asked for while this file is read. Kinds are those of web/dish.schema.json;
/// the keys of an alternative (a disc, a polygon) are asked for only where the file chooses it.
AskedKeys keys_asked_for(std::string_view bytes);

}  // namespace files
