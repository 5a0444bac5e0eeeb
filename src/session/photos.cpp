// Bytes to a worker, its reply to facets, and facets' spots to a round.
#include "session/photos.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "naming/covers.h"
#include "naming/schemes.h"
#include "photo/board_sheet.h"
#include "session/carry.h"
#include "session/crossing.h"
#include "session/figures.h"
#include "session/look_back.h"
#include "session/notices.h"
#include "session/photo_table.h"
#include "session/spots.h"
#include "session/studies.h"
#include "tasks/spots_messages.h"

namespace session {
namespace {

constexpr std::size_t k_most_groups = 9;

std::vector<base::Vec2> places_of(const dish::Dish& dish) {
  std::vector<base::Vec2> places;
  places.reserve(dish.facets.size());
  for (const dish::Facet& facet : dish.facets) {
    places.emplace_back(facet.centre_m.x, facet.centre_m.y);
  }
  return places;
}

/// Number of a photo among those that show spots.
std::size_t place_among_spots(const PhotoWork& work, std::size_t photo) {
  return work.reference && *work.reference < photo ? photo - 1 : photo;
}

const tasks::PhotoSpots* reading_of(const Session& session, std::size_t photo) {
  const PhotoWork& work = session.photo_work;
  const auto& reply = session.studies.spots.reply;
  if (!reply || photo >= work.reply_of.size() || !work.reply_of[photo]) return nullptr;
  return &reply->photos[*work.reply_of[photo]];
}

/// Matches photos with the reply's and makes each one's map again.
void take_reply(Session& session) {
  PhotoWork& work = session.photo_work;
  const auto& reply = *session.studies.spots.reply;
  work.reply_of.assign(work.photos.size(), {});
  work.view.assign(work.photos.size(), {});
  std::size_t next = 0;
  for (std::size_t k = 0; k < work.photos.size(); ++k) {
    if (work.kind == PhotoKind::crossing) {
      work.reply_of[k] = place_in_film(work, k);
      if (work.reply_of[k] != std::size_t{0}) continue;  // frames are seen as the first is
    } else {
      if (work.reference == k || next >= reply.photos.size()) continue;
      work.reply_of[k] = next++;
    }
    const tasks::PhotoSpots& one = reply.photos[*work.reply_of[k]];
    if (!one.problems.empty()) continue;
    auto view = photo::rectify(one.view.marks, reply.board,
                               {static_cast<double>(work.photos[k].width_px),
                                static_cast<double>(work.photos[k].height_px)},
                               one.name);
    if (view) work.view[k] = std::move(view).value();
  }
}

void make_looks(Session& session) {
  PhotoWork& work = session.photo_work;
  work.looks.clear();
  work.look_photos.clear();
  for (std::size_t k = 0; k < work.photos.size(); ++k) {
    const tasks::PhotoSpots* reading = reading_of(session, k);
    if (reading == nullptr || !reading->problems.empty() || !reading->left.empty()) continue;
    naming::BoardLook look{.cells = uncovered_in(session, k), .spots = {}};
    for (const photo::Spot& spot : reading->found.spots) {
      look.spots.push_back({spot.place_m, spot.sigma_m, spot.flux, spot.merged});
    }
    work.looks.push_back(std::move(look));
    work.look_photos.push_back(k);
  }
}

dish::FacetId facet_of_cell(const Session& session, std::size_t cell) {
  return {session.photo_work.target->names[cell]};
}

/// Takes a facet from whoever had it in the same photo.
void apply_given(const GivenSpot& given, std::vector<NamedSpot>& spots) {
  for (NamedSpot& spot : spots) {
    if (given.facet && spot.facet == given.facet) spot.facet.reset();
  }
  NamedSpot& spot = spots[given.spot];
  spot.facet = given.facet;
  spot.is_by_hand = true;
  spot.doubt = naming::Doubt::none;
  spot.sentence.clear();
}

}  // namespace

std::vector<std::size_t> uncovered_in(const Session& session, std::size_t photo) {
  const PhotoWork& work = session.photo_work;
  const dish::Dish& dish = session.document.dish;
  std::vector<std::size_t> facets;
  const naming::Cover cover =
      naming::cover_in(places_of(dish), work.kind == PhotoKind::spots ? work.groups : 1);
  const std::size_t group = place_among_spots(work, photo) % cover.groups;
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    if (cover.group_of[k] == group) facets.push_back(k);
  }
  return facets;
}

std::optional<base::Vec2> in_photo(const Session& session, std::size_t photo,
                                   const base::Vec2& board_m) {
  const PhotoWork& work = session.photo_work;
  if (photo >= work.view.size() || !work.view[photo]) return {};
  return photo::to_image(*work.view[photo], board_m);
}

std::vector<NamedSpot> spots_of_photo(const Session& session, std::size_t photo) {
  std::vector<NamedSpot> spots;
  const PhotoWork& work = session.photo_work;
  const tasks::PhotoSpots* reading = reading_of(session, photo);
  if (reading == nullptr) return spots;
  for (const photo::Spot& spot : reading->found.spots) {
    spots.push_back({.photo = photo,
                     .spot = spot,
                     .image_px = in_photo(session, photo, spot.place_m).value_or(base::Vec2{})});
  }
  if (work.found) {
    for (const naming::Finding& finding : work.found->findings) {
      if (finding.doubt == naming::Doubt::missing || work.look_photos[finding.look] != photo)
        continue;
      NamedSpot& spot = spots[finding.spot];
      spot.facet = facet_of_cell(session, finding.cell);
      spot.doubt = finding.doubt;
      spot.odds = finding.odds;
      spot.sentence = finding.sentence;
    }
  }
  for (const GivenSpot& given : work.given) {
    if (given.photo == photo && given.spot < spots.size()) apply_given(given, spots);
  }
  return spots;
}

std::vector<MissingSpot> missing_in_photo(const Session& session, std::size_t photo) {
  std::vector<MissingSpot> missing;
  const PhotoWork& work = session.photo_work;
  if (!work.found || !work.target || !is_of_whole_dish(work, photo)) return missing;
  const auto spots = spots_of_photo(session, photo);
  for (const std::size_t cell : uncovered_in(session, photo)) {
    if (cell >= work.target->cells.size()) break;
    const naming::Cell& expected = work.target->cells[cell];
    const dish::FacetId facet = facet_of_cell(session, cell);
    const bool has_spot = std::any_of(spots.begin(), spots.end(),
                                      [&](const NamedSpot& spot) { return spot.facet == facet; });
    const auto at = in_photo(session, photo, expected.mark_m);
    if (!has_spot && at) missing.push_back({facet, *at});
  }
  return missing;
}

std::string standing_of_photo(const Session& session, std::size_t photo) {
  const PhotoWork& work = session.photo_work;
  if (work.kind == PhotoKind::fringes) return standing_of_fringes(session, photo);
  if (work.kind == PhotoKind::crossing && !is_of_whole_dish(work, photo)) {
    return standing_of_frame(session, photo);
  }
  if (work.reference == photo) return "covered dish, for comparison";
  const tasks::PhotoSpots* reading = reading_of(session, photo);
  if (reading == nullptr) return "not read yet";
  if (!reading->problems.empty()) return base::to_line(reading->problems.front());
  const auto spots = spots_of_photo(session, photo);
  const auto sure = std::count_if(spots.begin(), spots.end(), [](const NamedSpot& spot) {
    return spot.facet && spot.doubt == naming::Doubt::none;
  });
  return fmt::format("{} marks, {} spot{}, {} of {} facets sure", reading->view.marks.size(),
                     spots.size(), spots.size() == 1 ? "" : "s", sure,
                     uncovered_in(session, photo).size());
}

bool can_take_photos(const Session& session) {
  if (session.photo_work.kind == PhotoKind::fringes) return can_take_look_back(session);
  for (std::size_t k = 0; k < session.photo_work.photos.size(); ++k) {
    for (const NamedSpot& spot : spots_of_photo(session, k)) {
      if (spot.facet && spot.doubt == naming::Doubt::none) return true;
    }
  }
  return false;
}

void photos_follow_dish(Session& session) {
  const PhotoWork& work = session.photo_work;
  if (work.found && work.revision != session.document.revision) identify_spots(session);
  if (!work.look_back.pointed.empty() && work.look_back.revision != session.document.revision) {
    place_facets(session);
  }
}

void identify_spots(Session& session) {
  PhotoWork& work = session.photo_work;
  work.found.reset();
  work.problems.clear();
  work.revision = session.document.revision;
  if (!session.studies.spots.reply) return;
  take_reply(session);
  make_looks(session);
  if (work.looks.empty()) return;
  const dish::Dish& dish = session.document.dish;
  const align::Sighting sighting = naming::defocus_sighting(dish, work.before_focus_m);
  auto target = naming::target_of(dish, sighting, naming::priors_of(dish, work.prior_rad));
  if (!target) {
    work.problems = target.problems();
    return;
  }
  work.target = std::move(target).value();
  const tasks::PhotoSpots* first = reading_of(session, work.look_photos.front());
  naming::IdentifySettings settings{.board_area_m2 = work.board.width_m * work.board.height_m};
  if (first->found.spot_m > 0.0) settings.spot_diameter_m = first->found.spot_m;
  auto found = work.kind == PhotoKind::crossing
                   ? identify_by_crossings(session, *work.target, work.looks.front().spots)
                   : naming::identify(*work.target, work.looks, settings);
  if (!found) {
    work.problems = found.problems();
    return;
  }
  work.found = std::move(found).value();
}

void carry_out(Session& session, const act::SetPhotoSettings& wish) {
  PhotoWork& work = session.photo_work;
  photo::Board board{wish.board_width_m, wish.board_height_m,
                     photo::good_mark_m(wish.board_width_m, wish.board_height_m)};
  if (const auto problems = photo::check(board); !problems.empty()) {
    tell_problems(session, "The board stays as it was", problems);
    return;
  }
  const bool is_other_board =
      board.width_m != work.board.width_m || board.height_m != work.board.height_m;
  const bool is_other_reference = wish.reference != work.reference;
  work.board = board;
  work.before_focus_m =
      std::clamp(wish.before_focus_m, 0.0, 0.9 * session.document.dish.focal_length_m);
  work.groups = std::clamp<std::size_t>(wish.groups, 1, k_most_groups);
  work.prior_rad = std::clamp(wish.prior_rad, 1e-4, 0.1);
  work.reference =
      wish.reference && *wish.reference < work.photos.size() ? wish.reference : std::nullopt;
  if (is_other_board || is_other_reference) forget_reading(session);
  identify_spots(session);
}

void carry_out(Session& session, const act::PointAtMark& wish) {
  PhotoWork& work = session.photo_work;
  if (wish.photo >= work.photos.size() || wish.mark >= photo::k_marks) return;
  auto& clicked = work.photos[wish.photo].clicked;
  clicked.erase(std::remove_if(clicked.begin(), clicked.end(),
                               [&](const photo::ClickedMark& c) { return c.mark == wish.mark; }),
                clicked.end());
  if (wish.image_px) clicked.push_back({wish.mark, *wish.image_px});
}

void carry_out(Session& session, const act::ExportBoard& /*wish*/) {
  session.outbox.saves.push_back(
      {"target board.html", "text/html", photo::board_sheet(session.photo_work.board)});
}

void carry_out(Session& session, const act::ReadPhotos& /*wish*/) {
  const PhotoWork& work = session.photo_work;
  if (work.kind == PhotoKind::fringes) return read_look_back(session);
  if (work.kind == PhotoKind::crossing) return read_crossings(session);
  std::vector<tasks::PhotoPixels> photos;
  for (const BoardPhoto& photo : work.photos) {
    photos.push_back({{photo.name, photo.width_px, photo.height_px, *photo.rgba}, photo.clicked});
  }
  if (photos.empty() || (photos.size() == 1 && work.reference)) {
    tell(session, {.kind = Notice::Kind::note, .title = "There is no photo with spots to read"});
    return;
  }
  const auto reference = work.reference;
  forget_reading(session);
  start_study(session, session.studies.spots, tasks::spots_request(photos, work.board, reference));
}

void carry_out(Session& session, const act::NameSpot& wish) {
  PhotoWork& work = session.photo_work;
  if (wish.spot >= spots_of_photo(session, wish.photo).size()) return;
  auto& given = work.given;
  given.erase(std::remove_if(given.begin(), given.end(),
                             [&](const GivenSpot& g) {
                               const bool is_same_facet = wish.facet && g.facet == wish.facet;
                               return g.photo == wish.photo &&
                                      (g.spot == wish.spot || is_same_facet);
                             }),
              given.end());
  given.push_back({wish.photo, wish.spot, wish.facet});
}

void carry_out(Session& session, const act::TakePhotoSpots& /*wish*/) {
  const PhotoWork& work = session.photo_work;
  if (work.kind == PhotoKind::fringes) return take_look_back(session);
  std::vector<dish::Spot> spots;
  std::size_t left_out = 0;
  for (std::size_t k = 0; k < work.photos.size(); ++k) {
    for (const NamedSpot& named : spots_of_photo(session, k)) {
      if (!named.facet) continue;
      if (named.doubt != naming::Doubt::none) {
        ++left_out;
        continue;
      }
      const auto same = std::find_if(spots.begin(), spots.end(), [&](const dish::Spot& spot) {
        return spot.facet == *named.facet;
      });
      const dish::Spot spot{*named.facet, named.spot.place_m, named.spot.sigma_m};
      if (same == spots.end()) {
        spots.push_back(spot);
      } else {
        *same = spot;
      }
    }
  }
  const std::size_t count = spots.size();
  if (!add_board_round(session, std::move(spots), work.before_focus_m)) return;
  session.photo_work.shown = false;
  Notice notice{.title = fmt::format("{} spots from photos are a new round", count)};
  if (left_out > 0) {
    notice.lines.push_back(fmt::format(
        "{} doubtful ones were left out: uncover each of those facets alone and take one more "
        "photo, or give them their names by hand.",
        left_out));
  }
  tell(session, std::move(notice));
}

}  // namespace session
