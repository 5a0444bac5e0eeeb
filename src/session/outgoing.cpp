// What leaves the sitting: files to keep, a link, the wish for a file chooser. The page takes it
// out of the outbox.
#include <optional>
#include <utility>

#include "files/dish_write.h"
#include "files/spots.h"
#include "session/carry.h"
#include "session/derive.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/spots.h"
#include "tasks/align_task.h"
#include "tasks/marks_task.h"
#include "tasks/sheet_task.h"

namespace session {
namespace {

constexpr const char* k_dish_ending = ".dish.json";

/// Letters and digits of a name, small, with one dash for everything between them.
std::string file_stem(const std::string& name) {
  std::string stem;
  for (const char c : name) {
    const bool is_capital = c >= 'A' && c <= 'Z';
    const bool is_word = is_capital || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') ||
                         static_cast<unsigned char>(c) >= 0x80;
    if (is_word) {
      stem += is_capital ? static_cast<char>(c + 32) : c;
    } else if (!stem.empty() && stem.back() != '-') {
      stem += '-';
    }
  }
  while (!stem.empty() && stem.back() == '-') stem.pop_back();
  return stem.empty() ? "dish" : stem;
}

/// The open file's name without its ending, or one made from the dish's name.
std::string stem_of(const Document& document) {
  std::string stem = document.file_name;
  for (const std::string ending : {k_dish_ending, ".json"}) {
    if (stem.size() > ending.size() &&
        stem.compare(stem.size() - ending.size(), ending.size(), ending) == 0)
      stem.erase(stem.size() - ending.size());
  }
  return stem.empty() ? file_stem(document.dish.name) : stem;
}

std::string file_name(const Session& session, const dish::Round& round, const char* what) {
  return stem_of(session.document) + "-" + file_stem(round.name) + "-" + what;
}

std::string table_name(const Session& session, const dish::Round& round, const char* what) {
  return file_name(session, round, what) + ".csv";
}

/// The shown round's plan as the task's answer; nothing, with a notice, while there is none.
std::optional<tasks::AlignReply> present_plan(Session& session) {
  derive(session);  // wishes before this one may have changed the plan
  if (!is_fresh(session, session.plan)) {
    tell(session, {.title = "There are no turns to save yet", .lines = {"Log some spots first."}});
    return {};
  }
  return tasks::AlignReply{
      .plan = *session.plan.value,
      .request = {.round = *shown_round(session), .plan = session.plan_request}};
}

}  // namespace

void carry_out(Session& session, const act::Save& /*wish*/) {
  Document& document = session.document;
  document = close_step(std::move(document));
  document.file_name = stem_of(document) + k_dish_ending;
  session.outbox.saves.push_back(
      {document.file_name, "application/json", files::write_dish(document.dish)});
  document.saved_revision = document.revision;
}

void carry_out(Session& session, const act::AskOpen& /*wish*/) { session.outbox.ask_open = true; }

void carry_out(Session& session, const act::ShareLink& /*wish*/) {
  session.outbox.link = files::write_dish(session.document.dish);
}

void carry_out(Session& session, const act::ExportSpots& /*wish*/) {
  const dish::Round* round = shown_round(session);
  if (round == nullptr || round->spots.empty()) {
    tell(session, {.title = "There are no spots to save yet"});
    return;
  }
  std::vector<files::SpotRow> rows;
  for (const dish::Spot& spot : round->spots)
    rows.push_back({.facet = spot.facet.text,
                    .right_m = spot.seen_m.x,
                    .up_m = spot.seen_m.y,
                    .sigma_m = spot.sigma_m});
  session.outbox.saves.push_back(
      {table_name(session, *round, "spots"), "text/csv", files::write_spots(rows)});
}

void carry_out(Session& session, const act::ExportTurns& /*wish*/) {
  const auto reply = present_plan(session);
  if (!reply) return;
  session.outbox.saves.push_back(
      {table_name(session, reply->request.round, "turns"), "text/csv", tasks::csv_text(*reply)});
}

void carry_out(Session& session, const act::ExportSheet& /*wish*/) {
  const auto reply = present_plan(session);
  if (!reply) return;
  session.outbox.saves.push_back(
      {file_name(session, reply->request.round, "turns.html"), "text/html",
       tasks::sheet_html(session.document.dish, *reply, {.side = session.preferences.side})});
}

void carry_out(Session& session, const act::ExportMarks& /*wish*/) {
  const tasks::MarksRequest request = marks_request(session);
  const auto marks = tasks::run(session.document.dish, request);
  const auto html = marks ? tasks::marks_html(session.document.dish, marks.value())
                          : base::Result<std::string>(marks.problems());
  if (!html) {
    tell_problems(session, "There are no marks to print", html.problems());
    return;
  }
  session.outbox.saves.push_back(
      {file_name(session, request.round, "marks.html"), "text/html", html.value()});
}

}  // namespace session
