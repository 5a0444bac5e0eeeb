// What each edit is called in the undo list.
#include <fmt/format.h>

#include "dish/edit.h"
#include "dish/part_checks.h"

namespace dish {
namespace {

std::string about(const char* what, const FacetId& facet) {
  return fmt::format("{} {}", what, place_of(facet));
}

std::string about_round(const char* what, std::size_t round) {
  return fmt::format("{} round {}", what, round + 1);
}

/// Titles of edits that name what they change.
struct Title {
  std::string operator()(const edit::SetName&) const { return "Rename the dish"; }
  std::string operator()(const edit::SetNote&) const { return "Change the note"; }
  std::string operator()(const edit::SetFocalLength&) const { return "Set focal length"; }
  std::string operator()(const edit::SetSun&) const { return "Set the sun"; }
  std::string operator()(const edit::SetSite&) const { return "Set the site"; }
  std::string operator()(const edit::SetReceiver&) const { return "Change the receiver"; }
  std::string operator()(const edit::SetSecondary& e) const {
    return e.secondary ? "Change the secondary" : "Remove the secondary";
  }
  std::string operator()(const edit::SetFacetCentre& e) const { return about("Move", e.facet); }
  std::string operator()(const edit::SetFacetNormal& e) const {
    return e.normal ? about("Set the normal of", e.facet) : about("Cant to its aim", e.facet);
  }
  std::string operator()(const edit::SetFacetBracket& e) const {
    return about("Set the bracket of", e.facet);
  }
  std::string operator()(const edit::SetFacetSagMap& e) const {
    return about(e.sag_map ? "Set the sag map of" : "Take away the sag map of", e.facet);
  }
  std::string operator()(const edit::SetClocking& e) const {
    return about("Set the clocking of", e.facet);
  }
  std::string operator()(const edit::SetAim& e) const { return about("Aim", e.facet); }
  std::string operator()(const edit::SetFacetType& e) const {
    return about("Set the type of", e.facet);
  }
  std::string operator()(const edit::SetFacetMount& e) const {
    return about("Set the mount of", e.facet);
  }
  std::string operator()(const edit::AddFacet& e) const { return about("Add", e.facet.id); }
  std::string operator()(const edit::RemoveFacet& e) const { return about("Remove", e.facet); }
  std::string operator()(const edit::ReplaceFacets&) const { return "Lay out the facets"; }
  std::string operator()(const edit::SetDisplacement& e) const {
    return fmt::format("Turn screw {} of {}", e.screw + 1, place_of(e.facet));
  }
  std::string operator()(const edit::SetDisplacements& e) const {
    return about("Turn the screws of", e.facet);
  }
  std::string operator()(const edit::ResetDisplacements& e) const {
    return e.facet ? about("Return to nominal the screws of", *e.facet)
                   : std::string("Return all screws to nominal");
  }
  std::string operator()(const edit::UpsertFacetType& e) const {
    return "Change " + place_of(e.type.name);
  }
  std::string operator()(const edit::UpsertMount& e) const {
    return "Change " + place_of(e.mount.name);
  }
  std::string operator()(const edit::UpsertSpring& e) const {
    return "Change " + place_of(e.spring.name);
  }
  std::string operator()(const edit::RemoveFacetType& e) const {
    return "Remove " + place_of(e.type);
  }
  std::string operator()(const edit::RemoveMount& e) const { return "Remove " + place_of(e.mount); }
  std::string operator()(const edit::RemoveSpring& e) const {
    return "Remove " + place_of(e.spring);
  }
  std::string operator()(const edit::AddRound&) const { return "Add a round"; }
  std::string operator()(const edit::ReplaceRound& e) const {
    return about_round("Change", e.index);
  }
  std::string operator()(const edit::RemoveRound& e) const {
    return about_round("Remove", e.index);
  }
  std::string operator()(const edit::SetSpot& e) const {
    return about("Enter the spot of", e.spot.facet);
  }
  std::string operator()(const edit::RemoveSpot& e) const {
    return about("Remove the spot of", e.facet);
  }
  std::string operator()(const edit::RecordTurns& e) const {
    return about_round("Log the turns of", e.round);
  }
  std::string operator()(const edit::AmendTurns& e) const {
    return about("Put right what was turned at", e.facet);
  }
  std::string operator()(const edit::UndoRound&) const { return "Take the last round back"; }
  std::string operator()(const edit::MergeRounds&) const { return "Merge another file's rounds"; }
  std::string operator()(const edit::AddBlocker&) const { return "Add a shading part"; }
  std::string operator()(const edit::ReplaceBlocker&) const { return "Change a shading part"; }
  std::string operator()(const edit::RemoveBlocker&) const { return "Remove a shading part"; }
  std::string operator()(const edit::ReplaceDish& e) const { return "Open " + e.dish.name; }
};

}  // namespace

std::string title_of(const Edit& edit) { return std::visit(Title{}, edit); }

}  // namespace dish
