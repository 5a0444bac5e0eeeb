// The only way to change a dish: a small struct says what to change, apply() does it or refuses.
// The page, tests, fuzzers and replays all go through here.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/result.h"
#include "dish/dish.h"
#include "dish/recipes.h"

namespace dish {

/// Each of these is one wish. Things are named by their ids; screws, rounds and blockers count
/// from 0.
namespace edit {

// The dish as a whole.
struct SetName {
  std::string name;
};
struct SetNote {
  std::string note;
};
/// Of the parent paraboloid. Facets, receiver and secondary stay where they are.
struct SetFocalLength {
  double focal_length_m = 2.0;
};
struct SetSun {
  Sun sun;
};
struct SetSite {
  Site site;
};
struct SetReceiver {
  Receiver receiver;
};
struct SetSecondary {
  std::optional<Secondary> secondary;  ///< nothing: take it away
};

// Facets.
struct SetFacetCentre {
  FacetId facet;
  base::Vec3 centre_m{0.0, 0.0, 0.0};
};
struct SetFacetNormal {
  FacetId facet;
  std::optional<base::Vec3> normal;  ///< nothing: canted to its aim
};
struct SetFacetBracket {
  FacetId facet;
  std::optional<Bracket> bracket;  ///< nothing: as its mount says
};
struct SetClocking {
  FacetId facet;
  double clocking_rad = 0.0;
};
struct SetFacetSagMap {
  FacetId facet;
  SharedSagMap sag_map;  ///< nothing: as its type
};
struct SetAim {
  FacetId facet;
  base::Vec2 aim_m{0.0, 0.0};
};
struct SetFacetType {
  FacetId facet;
  FacetTypeName type;
};
struct SetFacetMount {
  FacetId facet;
  MountName mount;
};
struct AddFacet {
  Facet facet;
};
/// Its spots and turns go with it.
struct RemoveFacet {
  FacetId facet;
};
/// Lays out new facets. Facets whose id stays keep their aim and their screws' displacements;
/// spots and turns of ids that are gone are dropped. Types, mounts and springs stay; a layout of
/// petals gives each ring's type its outline, and makes the type when there is none of its name.
struct ReplaceFacets {
  Layout layout;
};

// Screws.
struct SetDisplacement {
  FacetId facet;
  int screw = 0;  ///< 0..2
  double displacement_m = 0.0;
};
struct SetDisplacements {
  FacetId facet;
  std::array<double, 3> displacement_m{0.0, 0.0, 0.0};
};
struct ResetDisplacements {
  std::optional<FacetId> facet;  ///< nothing: all facets
};

// Kinds.
struct UpsertFacetType {
  FacetType type;  ///< replaces the one of its name, or is added
};
struct UpsertMount {
  Mount mount;
};
struct UpsertSpring {
  Spring spring;
};
/// Only kinds that nothing uses can be removed.
struct RemoveFacetType {
  FacetTypeName type;
};
struct RemoveMount {
  MountName mount;
};
struct RemoveSpring {
  SpringName spring;
};

// Rounds.
struct AddRound {
  Round round;
};
struct ReplaceRound {
  std::size_t index = 0;
  Round round;
};
struct RemoveRound {
  std::size_t index = 0;
};
/// Replaces the facet's spot in that round, or adds it.
struct SetSpot {
  std::size_t round = 0;
  Spot spot;
};
struct RemoveSpot {
  std::size_t round = 0;
  FacetId facet;
};
/// Where a facet's screws stand after turning.
struct Moved {
  FacetId facet;
  std::array<double, 3> displacement_m{0.0, 0.0, 0.0};
};
/// The screws were turned: logs the turns after those already logged in the round, and moves the
/// as-built displacements to where the caller (who knows the screws) says they are now. What was
/// told, and what was left to tracker and receiver, stands beside it in the log.
struct RecordTurns {
  std::size_t round = 0;
  std::vector<Turned> turned;
  std::vector<Moved> moved;
  std::vector<Turned> told{};
  std::optional<LeftOut> left_out{};
};
/// Something else was done than was logged: replaces what the log says of one facet's turns. What
/// was told stays. `moved`: where the facet's screws stand then; nothing: they stay.
struct AmendTurns {
  std::size_t round = 0;
  FacetId facet;
  std::vector<Turned> turned;  ///< all of this facet; empty: nothing was turned
  std::optional<Moved> moved;
};
/// Takes the last round back; `moved`: where the screws stand without its turns.
struct UndoRound {
  std::vector<Moved> moved;
};
/// Takes over the rounds of another file of the same dish (see dish/merge.h).
struct MergeRounds {
  Dish other;
};

// Things that shade.
struct AddBlocker {
  Blocker blocker;
};
struct ReplaceBlocker {
  std::size_t index = 0;
  Blocker blocker;
};
struct RemoveBlocker {
  std::size_t index = 0;
};

/// Everything at once.
struct ReplaceDish {
  Dish dish;
};

}  // namespace edit

using Edit = std::variant<
    edit::SetName, edit::SetNote, edit::SetFocalLength, edit::SetSun, edit::SetSite,
    edit::SetReceiver, edit::SetSecondary, edit::SetFacetCentre, edit::SetFacetNormal,
    edit::SetFacetBracket, edit::SetClocking, edit::SetFacetSagMap, edit::SetAim,
    edit::SetFacetType, edit::SetFacetMount, edit::AddFacet, edit::RemoveFacet, edit::ReplaceFacets,
    edit::SetDisplacement, edit::SetDisplacements, edit::ResetDisplacements, edit::UpsertFacetType,
    edit::UpsertMount, edit::UpsertSpring, edit::RemoveFacetType, edit::RemoveMount,
    edit::RemoveSpring, edit::AddRound, edit::ReplaceRound, edit::RemoveRound, edit::SetSpot,
    edit::RemoveSpot, edit::RecordTurns, edit::AmendTurns, edit::UndoRound, edit::MergeRounds,
    edit::AddBlocker, edit::ReplaceBlocker, edit::RemoveBlocker, edit::ReplaceDish>;

/// The changed dish, or what is wrong with the wish; the caller's dish is never half changed.
/// Law: a dish without errors (see dish/checks.h) stays without errors under every edit that is
/// accepted. Problems: values out of range, names or numbers of things that are not there, names
/// already taken, kinds still in use, parts that contradict themselves.
base::Result<Dish> apply(Dish dish, const Edit& edit);

/// What the edit does, for the undo list: "Turn screw 2 of facet B4", "Set focal length".
std::string title_of(const Edit& edit);

}  // namespace dish
