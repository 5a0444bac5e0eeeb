// How each wish is carried out: one function for each kind of action. Only apply() calls them.
#pragma once

#include "session/session.h"

namespace session {

// apply.cpp
void carry_out(Session& session, const act::Change& wish);
void carry_out(Session& session, const act::BeginDrag& wish);
void carry_out(Session& session, const act::EndDrag& wish);
void carry_out(Session& session, const act::CancelDrag& wish);
void carry_out(Session& session, const act::Undo& wish);
void carry_out(Session& session, const act::Redo& wish);
void carry_out(Session& session, const act::DismissNotice& wish);

// view.cpp
void carry_out(Session& session, const act::GoToStage& wish);
void carry_out(Session& session, const act::Hover& wish);
void carry_out(Session& session, const act::Select& wish);
void carry_out(Session& session, const act::SelectNext& wish);
void carry_out(Session& session, const act::SetTint& wish);
void carry_out(Session& session, const act::SetTheme& wish);
void carry_out(Session& session, const act::SetSide& wish);
void carry_out(Session& session, const act::SetExposure& wish);
void carry_out(Session& session, const act::SetPictureRays& wish);
void carry_out(Session& session, const act::SetTrackingError& wish);
void carry_out(Session& session, const act::SetPlanRequest& wish);
void carry_out(Session& session, const act::SetRound& wish);
void carry_out(Session& session, const act::ShowKeys& wish);

// spots.cpp
void carry_out(Session& session, const act::SpotsFromLight& wish);
void carry_out(Session& session, const act::BeginRound& wish);
void carry_out(Session& session, const act::MergeRounds& wish);
void carry_out(Session& session, const act::TakeRoundBack& wish);

// told.cpp
void carry_out(Session& session, const act::TurnsDone& wish);

// spread.cpp
void carry_out(Session& session, const act::SpreadSpots& wish);

// trial.cpp
void carry_out(Session& session, const act::BeginTrial& wish);
void carry_out(Session& session, const act::TrialTurned& wish);
void carry_out(Session& session, const act::CorrectMount& wish);

// practice.cpp
void carry_out(Session& session, const act::StartPractice& wish);
void carry_out(Session& session, const act::PracticeLook& wish);
void carry_out(Session& session, const act::PracticeTell& wish);
void carry_out(Session& session, const act::EndPractice& wish);

// photo_table.cpp
void carry_out(Session& session, const act::OpenPhoto& wish);
void carry_out(Session& session, const act::ShowPhotos& wish);
void carry_out(Session& session, const act::ChoosePhoto& wish);
void carry_out(Session& session, const act::DropPhoto& wish);
void carry_out(Session& session, const act::SetPhotoKind& wish);

// photos.cpp
void carry_out(Session& session, const act::SetPhotoSettings& wish);
void carry_out(Session& session, const act::PointAtMark& wish);
void carry_out(Session& session, const act::ExportBoard& wish);
void carry_out(Session& session, const act::ReadPhotos& wish);
void carry_out(Session& session, const act::NameSpot& wish);
void carry_out(Session& session, const act::TakePhotoSpots& wish);

// crossing.cpp
void carry_out(Session& session, const act::SetCrossings& wish);
void carry_out(Session& session, const act::BeginCrossing& wish);

// look_back.cpp
void carry_out(Session& session, const act::SetLookBack& wish);
void carry_out(Session& session, const act::PointAtFacet& wish);
void carry_out(Session& session, const act::ExportFringes& wish);

// on_site.cpp
void carry_out(Session& session, const act::WorkOnSite& wish);
void carry_out(Session& session, const act::WorkStep& wish);
void carry_out(Session& session, const act::MarkWork& wish);

// intake.cpp
void carry_out(Session& session, const act::OpenDemo& wish);
void carry_out(Session& session, const act::OpenBytes& wish);

// outgoing.cpp
void carry_out(Session& session, const act::Save& wish);
void carry_out(Session& session, const act::AskOpen& wish);
void carry_out(Session& session, const act::ShareLink& wish);
void carry_out(Session& session, const act::ExportSpots& wish);
void carry_out(Session& session, const act::ExportTurns& wish);
void carry_out(Session& session, const act::ExportSheet& wish);
void carry_out(Session& session, const act::ExportMarks& wish);

// jobs.cpp
void carry_out(Session& session, const act::StartFullTrace& wish);
void carry_out(Session& session, const act::CancelFullTrace& wish);

// studies.cpp
void carry_out(Session& session, const act::StartBudget& wish);
void carry_out(Session& session, const act::StartForms& wish);
void carry_out(Session& session, const act::TakeForms& wish);
void carry_out(Session& session, const act::StartSearch& wish);
void carry_out(Session& session, const act::TakeSearch& wish);
void carry_out(Session& session, const act::StopStudy& wish);

/// Makes edits one undo step (or part of the open one) and notes what they touched. False, with a
/// notice and nothing changed, when one of them is refused.
bool change(Session& session, const std::vector<dish::Edit>& edits, const std::string& title);

/// Puts a whole document in place of the present one: another dish, or the same after undo.
void take_document(Session& session, Document document);

}  // namespace session
