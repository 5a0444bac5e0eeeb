// A file that describes its screws wrongly, put right: labels, hands, places and pitch of a mount,
// and where the screws then stand after the turns that were logged.
#pragma once

#include <vector>

#include "align/response.h"
#include "base/result.h"
#include "dish/dish.h"
#include "dish/edit.h"

namespace align {

/// The mount as it really is when its screws are wired like this. Labels keep their order; a frame
/// turns about the bracket's origin, which is the facet's foot but for brackets measured elsewhere.
dish::Mount rewired(const dish::Mount& mount, const Wiring& wiring);

/// The edits that make the file say so. What stood in a facet's displacements before any logged
/// turn is kept as the plane that it was; the logged turns are made again by the corrected mount.
/// Problems: no such mount, not three adjusters.
base::Result<std::vector<dish::Edit>> rewire(const dish::Dish& dish, const dish::MountName& name,
                                             const Wiring& wiring);

}  // namespace align
