// Photos come, are chosen, and are put away again; and what they show.
#include "session/photo_table.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "naming/look_back.h"
#include "naming/schemes.h"
#include "session/carry.h"
#include "session/notices.h"

namespace session {
namespace {

constexpr std::size_t k_most_photos_on_table = 120;
/// The browser holds each photo twice while it is read: eight of 12 million pixels still fit.
constexpr std::size_t k_most_photo_bytes = 420'000'000;

/// The first board that suits the dish: as far inside the focus as it may stand, wide enough; and
/// where the camera of a look back may stand.
void suggest_places(Session& session) {
  PhotoWork& work = session.photo_work;
  work.look_back.camera_m = naming::good_camera_m(session.document.dish);
  const auto board = naming::largest_defocus(session.document.dish, {});
  if (!board) return;
  work.before_focus_m = board.value().before_focus_m;
  const double side = 2.0 * std::ceil(board.value().half_width_m * 100.0) / 100.0;
  work.board.width_m = work.board.height_m = side;
  work.board.mark_m = photo::good_mark_m(side, side);
}

bool has_room(Session& session, const act::OpenPhoto& wish) {
  const auto& photos = session.photo_work.photos;
  std::size_t bytes = wish.rgba->size();
  for (const BoardPhoto& photo : photos) bytes += photo.rgba->size();
  const bool too_many = photos.size() >= k_most_photos_on_table;
  if (!too_many && bytes <= k_most_photo_bytes) return true;
  const std::string full =
      fmt::format("{} photos are on the table, and together they may have {} million pixels.",
                  photos.size(), k_most_photo_bytes / 4'000'000);
  tell(session, {.kind = Notice::Kind::warning,
                 .title = "No room for " + wish.name,
                 .lines = {full, "Put some away first, or bring smaller ones."}});
  return false;
}

/// Compares as people count: "frame 9" before "frame 10".
bool comes_before(const std::string& a, const std::string& b) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (!is_digit(a[i]) || !is_digit(b[j])) {
      if (a[i] != b[j]) return a[i] < b[j];
      ++i;
      ++j;
      continue;
    }
    while (i < a.size() && a[i] == '0') ++i;
    while (j < b.size() && b[j] == '0') ++j;
    const std::size_t from_a = i;
    const std::size_t from_b = j;
    while (i < a.size() && is_digit(a[i])) ++i;
    while (j < b.size() && is_digit(b[j])) ++j;
    if (i - from_a != j - from_b) return i - from_a < j - from_b;
    const int order = a.compare(from_a, i - from_a, b, from_b, j - from_b);
    if (order != 0) return order < 0;
  }
  return a.size() - i < b.size() - j;
}

}  // namespace

void forget_reading(Session& session) {
  carry_out(session, act::StopStudy{StudyKind::spots});
  carry_out(session, act::StopStudy{StudyKind::look_back});
  PhotoWork& work = session.photo_work;
  work.reply_of.clear();
  work.view.clear();
  work.looks.clear();
  work.look_photos.clear();
  work.found.reset();
  work.given.clear();
  work.problems.clear();
  session.studies.spots.reply.reset();
  session.studies.look_back.reply.reset();
}

std::vector<std::size_t> in_name_order(const PhotoWork& work) {
  std::vector<std::size_t> order(work.photos.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return comes_before(work.photos[a].name, work.photos[b].name);
  });
  return order;
}

void carry_out(Session& session, const act::OpenPhoto& wish) {
  PhotoWork& work = session.photo_work;
  if (!has_room(session, wish)) return;
  if (work.photos.empty()) suggest_places(session);
  work.photos.push_back({.name = wish.name,
                         .width_px = wish.width_px,
                         .height_px = wish.height_px,
                         .rgba = wish.rgba,
                         .clicked = {},
                         .number = work.next_number++});
  // A set is brought in one go: the first of it is what is worked with.
  if (work.kind == PhotoKind::spots || work.photos.size() == 1)
    work.chosen = work.photos.size() - 1;
  work.shown = true;
  session.stage = Stage::align;
  session.on_site.shown = false;
  forget_reading(session);
}

void carry_out(Session& session, const act::ShowPhotos& wish) {
  session.photo_work.shown = wish.show && !session.photo_work.photos.empty();
}

void carry_out(Session& session, const act::ChoosePhoto& wish) {
  if (wish.photo < session.photo_work.photos.size()) session.photo_work.chosen = wish.photo;
}

void carry_out(Session& session, const act::DropPhoto& wish) {
  PhotoWork& work = session.photo_work;
  if (wish.photo >= work.photos.size()) return;
  work.photos.erase(work.photos.begin() + static_cast<std::ptrdiff_t>(wish.photo));
  if (work.reference == wish.photo) work.reference.reset();
  if (work.reference && *work.reference > wish.photo) --*work.reference;
  work.chosen = std::min(work.chosen, work.photos.empty() ? 0 : work.photos.size() - 1);
  work.shown = work.shown && !work.photos.empty();
  forget_reading(session);
}

void carry_out(Session& session, const act::SetPhotoKind& wish) {
  if (session.photo_work.kind == wish.kind) return;
  session.photo_work.kind = wish.kind;
  forget_reading(session);
}

}  // namespace session
