// The line that --version prints.
#include "cli/version.h"

namespace cli {

std::string version_text() { return std::string("facetwright ") + k_version + "\n"; }

}  // namespace cli
