// Which photos are frames of which crossing.
#include "session/crossing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "naming/film.h"
#include "session/carry.h"
#include "session/notices.h"
#include "session/photo_table.h"
#include "session/photos.h"
#include "session/studies.h"
#include "tasks/spots_messages.h"

namespace session {
namespace {

/// Photos of the film in their order, one list for the whole dish and one for each crossing.
std::array<std::vector<std::size_t>, 3> film_of(const PhotoWork& work) {
  std::array<std::vector<std::size_t>, 3> film;
  const bool is_said = std::any_of(
      work.photos.begin(), work.photos.end(),
      [&](const BoardPhoto& photo) { return photo.number == work.crossing.first_from; });
  std::size_t part = 0;
  for (const std::size_t photo : in_name_order(work)) {
    const std::uint64_t number = work.photos[photo].number;
    // Unless it is said otherwise, one photo of the whole dish comes first.
    const bool begins = is_said ? work.crossing.first_from == number : !film[0].empty();
    if (part == 0 && begins) part = 1;
    if (part == 1 && work.crossing.second_from == number) part = 2;
    film[part].push_back(photo);
  }
  return film;
}

/// The film as it is read: one photo of the whole dish and both crossings.
std::vector<std::size_t> frames_to_read(const PhotoWork& work) {
  const auto film = film_of(work);
  std::vector<std::size_t> frames;
  if (!film[0].empty()) frames.push_back(film[0].front());
  frames.insert(frames.end(), film[1].begin(), film[1].end());
  frames.insert(frames.end(), film[2].begin(), film[2].end());
  return frames;
}

naming::FilmedCrossing crossing_in(const tasks::SpotsReply& reply, std::size_t first,
                                   std::size_t count, double direction_rad) {
  naming::FilmedCrossing crossing{.direction_rad = direction_rad};
  for (std::size_t k = 0; k < count; ++k) crossing.left.push_back(reply.photos[first + k].left);
  return crossing;
}

}  // namespace

int crossing_of(const PhotoWork& work, std::size_t photo) {
  if (work.kind != PhotoKind::crossing) return 0;
  const auto film = film_of(work);
  for (int part = 1; part <= 2; ++part) {
    const auto& frames = film[static_cast<std::size_t>(part)];
    if (std::find(frames.begin(), frames.end(), photo) != frames.end()) return part;
  }
  return 0;
}

bool is_of_whole_dish(const PhotoWork& work, std::size_t photo) {
  return crossing_of(work, photo) == 0;
}

std::optional<std::size_t> place_in_film(const PhotoWork& work, std::size_t photo) {
  const auto frames = frames_to_read(work);
  const auto at = std::find(frames.begin(), frames.end(), photo);
  if (at == frames.end()) return {};
  return static_cast<std::size_t>(at - frames.begin());
}

std::string standing_of_frame(const Session& session, std::size_t photo) {
  const PhotoWork& work = session.photo_work;
  const int part = crossing_of(work, photo);
  const auto film = film_of(work);
  const auto& frames = film[static_cast<std::size_t>(part)];
  const auto at = std::find(frames.begin(), frames.end(), photo) - frames.begin();
  std::string text = fmt::format("{} crossing, frame {} of {}", part == 1 ? "first" : "second",
                                 at + 1, frames.size());
  const auto& reply = session.studies.spots.reply;
  const auto place = place_in_film(work, photo);
  if (reply && place && *place < reply->photos.size()) {
    const auto& left = reply->photos[*place].left;
    const auto lit = std::count_if(left.begin(), left.end(), [](double l) { return l >= 0.5; });
    text += fmt::format(": {} of {} spots still lit", lit, left.size());
  }
  return text;
}

std::string missing_for_crossings(const PhotoWork& work) {
  const auto film = film_of(work);
  if (film[0].empty()) return "A photo of the whole dish must come first.";
  if (film[2].empty()) return "Choose the photo with which the second crossing begins.";
  for (const std::size_t part : {std::size_t{1}, std::size_t{2}}) {
    if (film[part].size() >= naming::k_least_frames) continue;
    return fmt::format("The {} crossing has {} frames: bring twenty or so, at least {}.",
                       part == 1 ? "first" : "second", film[part].size(), naming::k_least_frames);
  }
  return {};
}

void read_crossings(Session& session) {
  const PhotoWork& work = session.photo_work;
  if (const std::string missing = missing_for_crossings(work); !missing.empty()) {
    tell(session,
         {.kind = Notice::Kind::note, .title = "The film cannot be read yet", .lines = {missing}});
    return;
  }
  std::vector<tasks::PhotoPixels> photos;
  for (const std::size_t k : frames_to_read(work)) {
    const BoardPhoto& photo = work.photos[k];
    photos.push_back({{photo.name, photo.width_px, photo.height_px, *photo.rgba}, photo.clicked});
  }
  forget_reading(session);
  start_study(session, session.studies.spots,
              tasks::spots_request(photos, work.board, std::nullopt, true));
}

base::Result<naming::Identification> identify_by_crossings(
    const Session& session, const naming::IdentifyTarget& target,
    const std::vector<naming::BoardSpot>& spots) {
  const PhotoWork& work = session.photo_work;
  const tasks::SpotsReply& reply = *session.studies.spots.reply;
  const auto film = film_of(work);
  if (reply.photos.size() != 1 + film[1].size() + film[2].size()) {
    return base::Problem{"the film", "frames that were not read", "to be read again"};
  }
  return naming::identify_by_film(
      target, spots,
      {crossing_in(reply, 1, film[1].size(), work.crossing.first_rad),
       crossing_in(reply, 1 + film[1].size(), film[2].size(), work.crossing.second_rad)});
}

void carry_out(Session& session, const act::SetCrossings& wish) {
  CrossingWork& crossing = session.photo_work.crossing;
  crossing.first_rad = wish.first_rad;
  crossing.second_rad = wish.second_rad;
  if (session.photo_work.kind == PhotoKind::crossing) identify_spots(session);
}

void carry_out(Session& session, const act::BeginCrossing& wish) {
  PhotoWork& work = session.photo_work;
  if (wish.photo >= work.photos.size()) return;
  const std::uint64_t number = work.photos[wish.photo].number;
  (wish.crossing == 2 ? work.crossing.second_from : work.crossing.first_from) = number;
  forget_reading(session);
}

}  // namespace session
