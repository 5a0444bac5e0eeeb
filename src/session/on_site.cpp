// Work is an order of facets and a place in it; what was done stands in the dish's log.
#include "session/on_site.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "align/put_right.h"
#include "align/work_order.h"
#include "session/carry.h"
#include "session/derive.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/told.h"

namespace session {
namespace {

/// Facets of the shown round that are to be turned or have been, in the order of the work.
std::vector<dish::FacetId> facets_to_work_on(const Session& session) {
  std::vector<dish::FacetId> ids;
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return ids;
  for (const dish::Turned& turned : round->turned) ids.push_back(turned.facet);
  const auto open = open_turns(session);
  ids.insert(ids.end(), open.begin(), open.end());
  return align::work_order(session.document.dish, ids, side_of(session));
}

/// Shows a facet of the work everywhere.
void take_in_hand(Session& session, std::size_t place) {
  session.on_site.place = place;
  session.selection.selected = session.on_site.order[place];
  session.selection.screw = -1;
}

/// The next facet that is still open, from the present one on; else the present one stays.
void go_to_open(Session& session) {
  const OnSite& work = session.on_site;
  for (std::size_t step = 1; step <= work.order.size(); ++step) {
    const std::size_t place = (work.place + step) % work.order.size();
    if (work_on(session, work.order[place]) != FacetWork::open) continue;
    return take_in_hand(session, place);
  }
}

void forget_mark(OnSite& work, const dish::FacetId& facet) {
  for (auto* marks : {&work.again, &work.skipped}) {
    marks->erase(std::remove(marks->begin(), marks->end(), facet), marks->end());
  }
}

/// "1¼", "⅔", "5/12", "2 + 5/12": what a hand can count.
std::string amount_of(int clicks, int clicks_per_turn) {
  static constexpr std::array<std::pair<int, const char*>, 7> k_twelfths = {
      {{2, "⅙"}, {3, "¼"}, {4, "⅓"}, {6, "½"}, {8, "⅔"}, {9, "¾"}, {10, "⅚"}}};
  const int whole = std::abs(clicks) / clicks_per_turn;
  const int rest = std::abs(clicks) % clicks_per_turn;
  std::string text = whole > 0 ? fmt::format("{}", whole) : std::string();
  if (rest == 0) return text;
  if ((12 * rest) % clicks_per_turn == 0) {
    for (const auto& [twelfths, sign] : k_twelfths) {
      if (twelfths == 12 * rest / clicks_per_turn) return text + sign;
    }
  }
  return fmt::format("{}{}/{}", whole > 0 ? text + " + " : "", rest, clicks_per_turn);
}

std::vector<dish::Turned> of_facet(const std::vector<dish::Turned>& log,
                                   const dish::FacetId& facet) {
  std::vector<dish::Turned> found;
  for (const dish::Turned& turned : log) {
    if (turned.facet == facet) found.push_back(turned);
  }
  return found;
}

std::vector<dish::Turned> told_at(const Session& session, const dish::FacetId& facet) {
  const dish::Round* round = shown_round(session);
  return round == nullptr ? std::vector<dish::Turned>() : of_facet(round->told, facet);
}

double turns_of(const std::vector<dish::Turned>& turned, const std::string& screw) {
  double turns = 0.0;
  for (const dish::Turned& one : turned) turns += one.screw == screw ? one.turns : 0.0;
  return turns;
}

}  // namespace

std::vector<dish::Turned> turned_at(const Session& session, const dish::FacetId& facet) {
  const dish::Round* round = shown_round(session);
  return round == nullptr ? std::vector<dish::Turned>() : of_facet(round->turned, facet);
}

std::optional<dish::FacetId> facet_in_hand(const Session& session) {
  const OnSite& work = session.on_site;
  if (work.place >= work.order.size()) return {};
  return work.order[work.place];
}

FacetWork work_on(const Session& session, const dish::FacetId& facet) {
  const auto has = [&](const std::vector<dish::FacetId>& marks) {
    return std::find(marks.begin(), marks.end(), facet) != marks.end();
  };
  if (has(session.on_site.again)) return FacetWork::again;
  if (!turned_at(session, facet).empty()) return FacetWork::done;
  return has(session.on_site.skipped) ? FacetWork::skipped : FacetWork::open;
}

WorkCount count_work(const Session& session) {
  WorkCount count{.all = session.on_site.order.size()};
  for (const dish::FacetId& facet : session.on_site.order) {
    count.done += work_on(session, facet) == FacetWork::done ? 1 : 0;
  }
  return count;
}

bool can_work_on_site(const Session& session) {
  const dish::Round* round = shown_round(session);
  if (round == nullptr) return false;
  return !round->turned.empty() || turns_are_open(session);
}

std::optional<std::array<ToldScrew, 3>> told_screws(const Session& session,
                                                    const dish::FacetId& facet) {
  const auto turns = told_turns(session, facet);
  const std::size_t index = dish::find_facet(session.document.dish, facet);
  if (!turns || index == dish::k_no_facet) return {};
  const auto logged = told_at(session, facet);
  std::array<ToldScrew, 3> told;
  for (std::size_t k = 0; k < 3; ++k) {
    ToldTurn screw = (*turns)[k];
    // Once they are made, the turns stay as they were told.
    if (!logged.empty()) {
      screw.clicks =
          static_cast<int>(std::lround(turns_of(logged, screw.label) * screw.clicks_per_turn));
    }
    const dish::Adjuster* adjuster = adjuster_of(session, index, static_cast<int>(k));
    if (adjuster == nullptr) return {};
    const bool is_seen_from_there = screw.seen_from == side_of(session);
    told[k] = {.label = screw.label,
               .clicks = is_seen_from_there ? screw.clicks : -screw.clicks,
               .amount = amount_of(screw.clicks, screw.clicks_per_turn),
               .words = words_of(screw, side_of(session)),
               .place_m = {adjuster->x_m, adjuster->y_m}};
    if (!screw.finish.empty()) told[k].words += "; " + screw.finish;
  }
  return told;
}

std::vector<Slip> slips_of(const Session& session, const dish::FacetId& id) {
  const dish::Dish& dish = session.document.dish;
  std::vector<Slip> slips;
  const auto logged = turned_at(session, id);
  const std::size_t facet = dish::find_facet(dish, id);
  if (facet == dish::k_no_facet || logged.empty()) return slips;
  const dish::Mount* mount = dish::find_mount(dish, dish.facets[facet].mount);
  if (mount == nullptr) return slips;
  const auto offer = [&](std::string words, const base::Result<dish::edit::AmendTurns>& amend) {
    if (amend) slips.push_back({std::move(words), amend.value()});
  };
  for (const dish::Turned& one : logged) {
    offer(fmt::format("I turned screw {} the wrong way", one.screw),
          align::turned_wrong_way(dish, session.round, id, one.screw));
  }
  for (std::size_t a = 0; a < mount->adjusters.size(); ++a) {
    for (std::size_t b = a + 1; b < mount->adjusters.size(); ++b) {
      const std::string& first = mount->adjusters[a].label;
      const std::string& second = mount->adjusters[b].label;
      if (turns_of(logged, first) == turns_of(logged, second)) continue;
      // Told is the one whose turns are logged.
      const bool has_first = turns_of(logged, first) != 0.0;
      offer(fmt::format("I took screw {} for {}", first, second),
            align::turned_other_screw(dish, session.round, id, has_first ? first : second,
                                      has_first ? second : first));
    }
  }
  return slips;
}

void carry_out(Session& session, const act::WorkOnSite& wish) {
  OnSite& work = session.on_site;
  work.shown = wish.show;
  if (!wish.show) return;
  derive(session);
  // What was only worth a note has been read by now, and would lie over the turns.
  auto& notices = session.notices;
  notices.erase(std::remove_if(notices.begin(), notices.end(),
                               [](const Notice& notice) {
                                 return notice.kind == Notice::Kind::note && !notice.offer;
                               }),
                notices.end());
  const auto hand = facet_in_hand(session);
  if (work.round != session.round) work = {.shown = true, .round = session.round};
  work.order = facets_to_work_on(session);
  if (work.order.empty()) {
    work.shown = false;
    tell(session, {.kind = Notice::Kind::note,
                   .title = "There is nothing to turn",
                   .lines = {"The shown round asks for no turns. Log new spots first."}});
    return;
  }
  const auto begin = work.order.begin();
  const auto same = hand ? std::find(begin, work.order.end(), *hand) : begin;
  take_in_hand(session, same == work.order.end() ? 0 : static_cast<std::size_t>(same - begin));
  if (work_on(session, work.order[work.place]) != FacetWork::open) go_to_open(session);
}

void resume_work(Session& session) {
  if (!session.on_site.shown) return;
  if (session.selection.selected) session.on_site.order = {*session.selection.selected};
  carry_out(session, act::WorkOnSite{true});
}

void carry_out(Session& session, const act::WorkStep& wish) {
  const std::size_t count = session.on_site.order.size();
  if (count == 0) return;
  const auto by = static_cast<std::size_t>(wish.step > 0 ? 1 : count - 1);
  take_in_hand(session, (session.on_site.place + by) % count);
}

void carry_out(Session& session, const act::MarkWork& wish) {
  const auto facet = facet_in_hand(session);
  if (!facet) return;
  OnSite& work = session.on_site;
  forget_mark(work, *facet);
  if (wish.mark == act::MarkWork::skip) work.skipped.push_back(*facet);
  if (wish.mark == act::MarkWork::again) work.again.push_back(*facet);
  if (wish.mark == act::MarkWork::done && turned_at(session, *facet).empty()) {
    derive(session);
    if (!log_told_turns(session, *facet)) return;
  }
  if (wish.mark == act::MarkWork::done) work.last_done = *facet;
  go_to_open(session);
}

}  // namespace session
