// One line for each kind of edit that touches less than everything.
#include "session/touched.h"

#include <algorithm>

namespace session {
namespace {

namespace edit = dish::edit;

struct Reach {
  template <class Edit>
  Touched operator()(const Edit&) const {
    return {.everything = true, .facets = {}};
  }

  // Words and observations.
  Touched operator()(const edit::SetName&) const { return {}; }
  Touched operator()(const edit::SetNote&) const { return {}; }
  Touched operator()(const edit::SetSite&) const { return {}; }
  Touched operator()(const edit::AddRound&) const { return {}; }
  Touched operator()(const edit::ReplaceRound&) const { return {}; }
  Touched operator()(const edit::RemoveRound&) const { return {}; }
  Touched operator()(const edit::SetSpot&) const { return {}; }
  Touched operator()(const edit::RemoveSpot&) const { return {}; }

  // One facet's stance; its outline and the aperture stay.
  Touched operator()(const edit::SetDisplacement& e) const { return one(e.facet); }
  Touched operator()(const edit::SetDisplacements& e) const { return one(e.facet); }
  Touched operator()(const edit::SetAim& e) const { return one(e.facet); }
  Touched operator()(const edit::SetFacetNormal& e) const { return one(e.facet); }
  Touched operator()(const edit::SetFacetBracket& e) const { return one(e.facet); }
  Touched operator()(const edit::ResetDisplacements& e) const {
    if (e.facet) return one(*e.facet);
    return {.everything = true, .facets = {}};
  }
  Touched operator()(const edit::RecordTurns& e) const {
    Touched touched;
    for (const edit::Moved& moved : e.moved) add(touched, one(moved.facet));
    return touched;
  }
  Touched operator()(const edit::AmendTurns& e) const { return e.moved ? one(e.facet) : Touched{}; }
  Touched operator()(const edit::UndoRound& e) const {
    Touched touched;
    for (const edit::Moved& moved : e.moved) add(touched, one(moved.facet));
    return touched;
  }

  static Touched one(const dish::FacetId& facet) {
    return {.everything = false, .facets = {facet}};
  }
};

}  // namespace

Touched touched_by(const dish::Edit& edit) { return std::visit(Reach{}, edit); }

void add(Touched& touched, const Touched& more) {
  touched.everything = touched.everything || more.everything;
  for (const dish::FacetId& facet : more.facets) {
    if (touched.everything) break;
    const auto& known = touched.facets;
    if (std::find(known.begin(), known.end(), facet) == known.end())
      touched.facets.push_back(facet);
    touched.everything = known.size() > k_most_touched_facets;
  }
  if (touched.everything) touched.facets.clear();
}

}  // namespace session
