// From facets pointed at to a round without sun.
#include "session/look_back.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/units.h"
#include "files/dish_write.h"
#include "naming/look_back.h"
#include "photo/fringe_sheet.h"
#include "session/carry.h"
#include "session/notices.h"
#include "session/photo_table.h"
#include "session/spots.h"
#include "session/studies.h"

namespace session {
namespace {

constexpr std::size_t k_least_pointed = 4;

bool is_elsewhere(const std::optional<tasks::FacetsInPhoto>& before,
                  const std::optional<tasks::FacetsInPhoto>& now) {
  if (!before || !now || before->places.size() != now->places.size()) return true;
  for (std::size_t k = 0; k < now->places.size(); ++k) {
    if (before->places[k].image_px != now->places[k].image_px) return true;
  }
  return false;
}

/// The reply's facets are the dish's, in its order.
bool is_of_these_facets(const tasks::LookBackReply& reply, const dish::Dish& dish) {
  if (reply.facets.size() != dish.facets.size()) return false;
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    if (reply.facets[k].facet != dish.facets[k].id) return false;
  }
  return true;
}

std::string sentence_of(const tasks::LookBackFacet& facet) {
  if (!facet.sentence.empty()) return facet.sentence;
  const photo::FringeReading& reading = facet.reading;
  return fmt::format("{} shows {:.1f} mm right, {:.1f} mm up of the screen's middle, +- {:.1f} mm",
                     facet.facet.text, base::mm_from_m(reading.screen_m.x),
                     base::mm_from_m(reading.screen_m.y),
                     base::mm_from_m(std::max(reading.sigma_m.x, reading.sigma_m.y)));
}

std::vector<dish::FacetId> pointed_facets(const Session& session) {
  std::vector<dish::FacetId> ids;
  for (const auto& one : session.photo_work.look_back.pointed) ids.push_back(one.facet);
  return ids;
}

}  // namespace

std::vector<FacetInPhoto> facets_in_photo(const Session& session) {
  std::vector<FacetInPhoto> facets;
  const auto& places = session.photo_work.look_back.places;
  const auto& all = session.document.dish.facets;
  if (!places || places->places.size() != all.size()) return facets;
  const auto& reply = session.studies.look_back.reply;
  for (std::size_t k = 0; k < all.size(); ++k) {
    FacetInPhoto facet{.facet = all[k].id,
                       .image_px = places->places[k].image_px,
                       .radius_px = places->places[k].radius_px};
    if (reply) {
      facet.was_read = reply->facets[k].reading.fault == photo::FringeFault::none;
      facet.sentence = sentence_of(reply->facets[k]);
    }
    facets.push_back(std::move(facet));
  }
  return facets;
}

std::optional<dish::FacetId> next_facet_to_point(const Session& session) {
  const dish::Dish& dish = session.document.dish;
  const auto seen = naming::facets_seen_from(dish, session.photo_work.look_back.camera_m);
  if (!seen) return {};
  const auto next = naming::next_to_point(seen.value(), pointed_facets(session));
  if (!next) return {};
  return dish.facets[*next].id;
}

std::string standing_of_fringes(const Session& session, std::size_t photo) {
  const auto order = in_name_order(session.photo_work);
  const auto at = std::find(order.begin(), order.end(), photo) - order.begin();
  const auto picture = static_cast<std::size_t>(at);
  if (picture >= photo::k_fringe_pictures) return "one too many: put it away";
  return fmt::format("picture {} of {}: {}", picture + 1, photo::k_fringe_pictures,
                     photo::fringe_name(picture));
}

std::string standing_of_look_back(const Session& session) {
  const PhotoWork& work = session.photo_work;
  const LookBackWork& look = work.look_back;
  if (work.photos.size() != photo::k_fringe_pictures) {
    return fmt::format("{} of {} photos are here.", work.photos.size(), photo::k_fringe_pictures);
  }
  if (!look.problems.empty()) return base::to_line(look.problems.front());
  if (look.pointed.size() < k_least_pointed) {
    return fmt::format("{} of {} facets are pointed at.", look.pointed.size(), k_least_pointed);
  }
  if (const auto& reply = session.studies.look_back.reply) {
    return fmt::format("{} of {} facets are read.", tasks::spots_of(*reply).size(),
                       reply->facets.size());
  }
  return fmt::format("{} facets are pointed at, {:.1f} pixels beside their places.",
                     look.pointed.size(), look.places ? look.places->residual_px : 0.0);
}

bool can_read_look_back(const Session& session) {
  return session.photo_work.photos.size() == photo::k_fringe_pictures &&
         session.photo_work.look_back.places.has_value();
}

bool can_take_look_back(const Session& session) {
  const auto& reply = session.studies.look_back.reply;
  return reply && !tasks::spots_of(*reply).empty();
}

void place_facets(Session& session) {
  LookBackWork& look = session.photo_work.look_back;
  const dish::Dish& dish = session.document.dish;
  look.revision = session.document.revision;
  look.problems.clear();
  look.pointed.erase(std::remove_if(look.pointed.begin(), look.pointed.end(),
                                    [&](const tasks::PointedFacet& one) {
                                      return dish::find_facet(dish, one.facet) == dish::k_no_facet;
                                    }),
                     look.pointed.end());
  std::optional<tasks::FacetsInPhoto> places;
  if (look.pointed.size() >= k_least_pointed) {
    auto found = tasks::place_facets(dish, look.camera_m, look.pointed);
    if (found) {
      places = std::move(found).value();
    } else {
      look.problems = found.problems();
    }
  }
  auto& reply = session.studies.look_back.reply;
  const bool is_other = is_elsewhere(look.places, places);
  if (is_other) carry_out(session, act::StopStudy{StudyKind::look_back});
  if (reply && (is_other || !is_of_these_facets(*reply, dish))) reply.reset();
  look.places = std::move(places);
}

void read_look_back(Session& session) {
  const PhotoWork& work = session.photo_work;
  if (!can_read_look_back(session)) {
    tell(session, {.kind = Notice::Kind::note,
                   .title = "The fringes cannot be read yet",
                   .lines = {standing_of_look_back(session)}});
    return;
  }
  std::vector<tasks::RgbaPixels> photos;
  for (const std::size_t k : in_name_order(work)) {
    const BoardPhoto& photo = work.photos[k];
    photos.push_back({photo.name, photo.width_px, photo.height_px, *photo.rgba});
  }
  forget_reading(session);
  const LookBackWork& look = work.look_back;
  start_study(session, session.studies.look_back,
              tasks::look_back_request(files::write_dish(session.document.dish), photos,
                                       look.screen, look.camera_m, look.pointed));
}

void take_look_back(Session& session) {
  if (!can_take_look_back(session)) return;
  const tasks::LookBackReply& reply = *session.studies.look_back.reply;
  const LookBackWork& look = session.photo_work.look_back;
  std::vector<dish::Spot> spots = tasks::spots_of(reply);
  const std::size_t count = spots.size();
  const std::size_t left_out = reply.facets.size() - count;
  if (!add_look_back_round(session, std::move(spots), look.camera_m,
                           naming::screen_board(session.document.dish, look.before_m))) {
    return;
  }
  session.photo_work.shown = false;
  Notice notice{.title = fmt::format("{} facets of a look back are a new round", count)};
  if (left_out > 0) {
    notice.lines.push_back(
        fmt::format("{} could not be read: the photos' bench says why.", left_out));
  }
  tell(session, std::move(notice));
}

void carry_out(Session& session, const act::SetLookBack& wish) {
  if (const auto problems = photo::check(wish.screen); !problems.empty()) {
    tell_problems(session, "The screen stays as it was", problems);
    return;
  }
  LookBackWork& look = session.photo_work.look_back;
  const bool is_other_screen =
      wish.screen.width_m != look.screen.width_m || wish.screen.height_m != look.screen.height_m;
  look.screen = wish.screen;
  look.camera_m = wish.camera_m;
  look.before_m = std::clamp(wish.before_m, 0.0, 0.9 * session.document.dish.focal_length_m);
  if (is_other_screen) forget_reading(session);
  place_facets(session);
}

void carry_out(Session& session, const act::PointAtFacet& wish) {
  auto& pointed = session.photo_work.look_back.pointed;
  pointed.erase(
      std::remove_if(pointed.begin(), pointed.end(),
                     [&](const tasks::PointedFacet& one) { return one.facet == wish.facet; }),
      pointed.end());
  if (wish.image_px) pointed.push_back({wish.facet, *wish.image_px});
  place_facets(session);
}

void carry_out(Session& session, const act::ExportFringes& /*wish*/) {
  session.outbox.saves.push_back({"fringes for the screen.html", "text/html",
                                  photo::fringe_sheet(session.photo_work.look_back.screen)});
}

}  // namespace session
