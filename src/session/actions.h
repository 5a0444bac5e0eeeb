// Everything a panel can wish for. Panels read the session and return wishes; nothing else
// changes it.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "align/plan.h"
#include "align/response.h"
#include "dish/edit.h"
#include "dish/ids.h"
#include "optics/form_choice.h"
#include "optics/optimise.h"
#include "photo/fringes.h"
#include "session/studies.h"

namespace session {

enum class Stage { lay_out, form, mount, light, align };
/// What the yard colours facets by: a quantity of each, or, for `shadow`, where the glass lies in
/// the light.
enum class Tint { plain, kind, power, spread, shadow, tilt, travel };
enum class ThemeChoice { lamp, noon };
/// What photos show: the spots on the board, those spots while an edge crosses the dish twice, or
/// a screen's fringes in the facets.
enum class PhotoKind { spots, crossing, fringes };

namespace act {

struct Change {  ///< an edit of the dish, one undo step (or part of the open one)
  dish::Edit edit;
};
struct BeginDrag {
  std::string title;
};
struct EndDrag {};
struct CancelDrag {};
struct Undo {};
struct Redo {};

struct GoToStage {
  Stage stage;
};
struct Hover {
  std::optional<dish::FacetId> facet;
};
struct Select {
  std::optional<dish::FacetId> facet;
  int screw = -1;  ///< 0..2, or -1 for none in particular
};
struct SelectNext {
  int step = 1;  ///< +1 next facet, -1 the one before
};

struct SetTint {
  Tint tint;
};
struct SetTheme {
  ThemeChoice theme;
};
struct SetSide {
  dish::Side side;  ///< where the person stands
};
struct SetExposure {
  double stops = 0.0;
};
struct SetPictureRays {  ///< how many rays of each facet the yard draws
  int rays = 1;
};
struct SetTrackingError {  ///< the sun the light is computed for
  base::Vec2 error_rad{0.0, 0.0};
};
struct SetPlanRequest {  ///< convention, clicks, which common modes are left to the tracker
  align::PlanRequest request;
};
struct SetRound {  ///< which logged round the corrections are read from
  std::size_t round = 0;
};
struct SpotsFromLight {};  ///< practice: log a round with the spots the model itself shows
struct WorkOnSite {        ///< opens or closes the work facet by facet
  bool show = true;
};
struct WorkStep {
  int step = 1;  ///< +1 the next facet of the work, -1 the one before
};
struct MarkWork {  ///< of the facet in hand; then the next open one is taken
  enum Mark { done, again, skip } mark = done;
};
struct OpenPhoto {  ///< a picture that the page has decoded
  std::string name;
  int width_px = 0;
  int height_px = 0;
  std::shared_ptr<const std::string> rgba;  ///< rows from the top
};
struct ShowPhotos {
  bool show = true;
};
struct ChoosePhoto {
  std::size_t photo = 0;
};
struct DropPhoto {
  std::size_t photo = 0;
};
struct SetPhotoKind {
  PhotoKind kind = PhotoKind::spots;
};
struct SetCrossings {  ///< where the edge moves to, anticlockwise from the right seen from the sun
  double first_rad = 0.0;
  double second_rad = 0.0;
};
struct BeginCrossing {  ///< from this photo on, in the order of their names
  std::size_t photo = 0;
  int crossing = 1;  ///< 1 or 2
};
struct SetLookBack {
  photo::Screen screen;
  base::Vec3 camera_m{0.0, 0.0, 30.0};
  double before_m = 0.0;
};
struct PointAtFacet {  ///< where the person sees a facet's middle; nothing: they take it back
  dish::FacetId facet;
  std::optional<base::Vec2> image_px;
};
struct ExportFringes {};  ///< the page for the screen
struct SetPhotoSettings {
  double board_width_m = 0.43;
  double board_height_m = 0.43;
  double before_focus_m = 0.0;
  std::size_t groups = 1;
  double prior_rad = 0.003;
  std::optional<std::size_t> reference;
};
struct PointAtMark {  ///< where the person sees a mark; nothing: they take it back
  std::size_t photo = 0;
  std::size_t mark = 0;
  std::optional<base::Vec2> image_px;
};
struct ExportBoard {};  ///< the board's marks, to print
struct ReadPhotos {};   ///< finds what they show, in a worker
struct NameSpot {       ///< gives a spot to a facet, or to nobody
  std::size_t photo = 0;
  std::size_t spot = 0;
  std::optional<dish::FacetId> facet;
};
struct TakePhotoSpots {};  ///< what is sure becomes a new round
struct StartPractice {     ///< hides errors to be found by looking and turning
  std::uint64_t seed = 1;
  double start_rad = 0.005;  ///< per axis
  bool faults = false;       ///< perhaps with screws that are numbered or cut otherwise
};
struct PracticeLook {};  ///< the hidden dish's spots become a new round
struct PracticeTell {};  ///< how far its facets still stand off
struct EndPractice {};
struct BeginTrial {};   ///< of two facets' screws, before any real turn (see align/nudge)
struct TrialTurned {};  ///< the next screw of each was turned half a turn
struct CorrectMount {   ///< puts the file right about how a mount's screws are wired
  dish::MountName mount;
  align::Wiring wiring;
};
struct SpreadSpots {};    ///< tells turns that give every spot a place of its own
struct BeginRound {};     ///< an empty one, to type spots into
struct TakeRoundBack {};  ///< the last one, with the turns it logged
struct TurnsDone {};      ///< the told turns were made: log them and move the as-built screws

struct OpenDemo {
  std::string name;
};
struct OpenBytes {  ///< a dish or a spots file, dropped, chosen or pasted
  std::string name;
  std::string bytes;
};
struct MergeRounds {  ///< takes over the rounds of another file of the same dish
  std::shared_ptr<const dish::Dish> other;
};
struct Save {};
struct AskOpen {};
struct ShareLink {};
struct ExportSpots {};
struct ExportTurns {};
struct ExportSheet {};  ///< the turns as a page to print
struct ExportMarks {};  ///< where perfect facets' spots lie, as pages at true scale
struct StartFullTrace {};
struct CancelFullTrace {};
struct StartBudget {};
struct StartForms {
  int most_groups = 4;
};
struct TakeForms {  ///< puts a choice of surfaces into the dish
  optics::FormKind kind = optics::FormKind::own_sphere;
  int moulds = 2;  ///< of groups
};
struct StartSearch {
  std::variant<optics::AimSettings, optics::SizeSettings> wish;
};
struct TakeSearch {};  ///< puts what was found into the dish
struct StopStudy {
  StudyKind kind = StudyKind::budget;
};
struct DismissNotice {
  std::size_t notice = 0;
};
struct ShowKeys {
  bool show = true;
};

}  // namespace act

using Action = std::variant<
    act::Change, act::BeginDrag, act::EndDrag, act::CancelDrag, act::Undo, act::Redo,
    act::GoToStage, act::Hover, act::Select, act::SelectNext, act::SetTint, act::SetTheme,
    act::SetSide, act::SetExposure, act::SetPictureRays, act::SetTrackingError, act::SetPlanRequest,
    act::SetRound, act::SpotsFromLight, act::OpenPhoto, act::ShowPhotos, act::ChoosePhoto,
    act::DropPhoto, act::SetPhotoSettings, act::PointAtMark, act::ExportBoard, act::ReadPhotos,
    act::NameSpot, act::TakePhotoSpots, act::SetPhotoKind, act::SetCrossings, act::BeginCrossing,
    act::SetLookBack, act::PointAtFacet, act::ExportFringes, act::StartPractice, act::PracticeLook,
    act::PracticeTell, act::EndPractice, act::BeginTrial, act::TrialTurned, act::CorrectMount,
    act::SpreadSpots, act::BeginRound, act::MergeRounds, act::TakeRoundBack, act::WorkOnSite,
    act::WorkStep, act::MarkWork, act::TurnsDone, act::OpenDemo, act::OpenBytes, act::Save,
    act::AskOpen, act::ShareLink, act::ExportSpots, act::ExportTurns, act::ExportSheet,
    act::ExportMarks, act::StartFullTrace, act::CancelFullTrace, act::StartBudget, act::StartForms,
    act::TakeForms, act::StartSearch, act::TakeSearch, act::StopStudy, act::DismissNotice,
    act::ShowKeys>;
using Actions = std::vector<Action>;

}  // namespace session
