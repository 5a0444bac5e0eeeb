// Tells apart what arrived and hands it to its reader.
#include "session/intake.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <memory>
#include <optional>
#include <type_traits>
#include <utility>

#include "base/units.h"
#include "dish/merge.h"
#include "dish/ranges.h"
#include "files/dish_read.h"
#include "files/readings.h"
#include "files/sag_map.h"
#include "files/spots.h"
#include "session/carry.h"
#include "session/demos.h"
#include "session/figures.h"
#include "session/notices.h"
#include "session/spots.h"
#include "tasks/align_task.h"

namespace session {
namespace {

constexpr std::size_t k_looked_at_bytes = 4096;
constexpr const char* k_what_opens =
    "A dish file (.dish.json) opens in place of the present dish; a table of spots (CSV, or rows "
    "pasted from a spreadsheet) becomes a new round; inclinometer or height-gauge readings join "
    "the "
    "round shown; a table of measured form (CSV, its first "
    "field v_mm/u_mm) becomes the form of the selected facet.";

bool ends_with(std::string_view text, std::string_view ending) {
  if (text.size() < ending.size()) return false;
  return std::equal(ending.begin(), ending.end(), text.end() - static_cast<long>(ending.size()),
                    [](char a, char b) { return a == (b >= 'A' && b <= 'Z' ? b + 32 : b); });
}

bool begins_with(std::string_view text, std::string_view beginning) {
  return text.substr(0, beginning.size()) == beginning;
}

/// First bytes of the usual picture formats: PNG, JPEG, GIF, BMP, WebP and TIFF. Some of them could
/// begin a text as well, so this only counts for bytes that are no text.
bool is_picture(std::string_view bytes) {
  constexpr std::array<std::string_view, 7> k_beginnings = {"\x89PNG", "\xFF\xD8\xFF", "GIF8", "BM",
                                                            "RIFF",    "II*",          "MM"};
  return std::any_of(k_beginnings.begin(), k_beginnings.end(),
                     [&](std::string_view beginning) { return begins_with(bytes, beginning); });
}

std::string_view without_blanks(std::string_view bytes) {
  if (begins_with(bytes, "\xEF\xBB\xBF")) bytes.remove_prefix(3);
  const std::size_t first = bytes.find_first_not_of(" \t\r\n");
  return first == std::string_view::npos ? std::string_view() : bytes.substr(first);
}

/// The first line that is no comment begins as a map of heights does: v (down the rows) over u.
bool begins_sag_map(std::string_view head) {
  while (begins_with(head, "#")) {
    head.remove_prefix(std::min(head.find_first_of("\r\n"), head.size()));
    head = without_blanks(head);
  }
  const std::string_view field = head.substr(0, head.find_first_of(",;\t\r\n"));
  return begins_with(field, "v") && field.find("/u") != std::string_view::npos;
}

bool has_control_bytes(std::string_view bytes) {
  return std::any_of(bytes.begin(), bytes.end(), [](char c) {
    return static_cast<unsigned char>(c) < 32 && c != '\t' && c != '\r' && c != '\n';
  });
}

/// Two people have worked on the same dish: each file's log has what the other's lacks.
std::optional<Offer> offer_of_merging(const dish::Dish& before, const dish::Dish& opened) {
  const auto merged = dish::merge_rounds(opened, before);
  if (!merged || merged.value().dish.rounds == opened.rounds) return {};
  return Offer{"Add the rounds I had", act::MergeRounds{std::make_shared<dish::Dish>(before)}};
}

void open_dish(Session& session, const std::string& name, std::string_view bytes) {
  auto read = files::read_dish(bytes, name);
  if (!read) {
    tell_problems(session, "Not opened: " + name, read.problems());
    return;
  }
  files::ReadDish opened = std::move(read).value();
  auto offer = offer_of_merging(session.document.dish, opened.dish);
  take_document(session, replace_dish(session.document, std::move(opened.dish), name));
  show_round(session, session.document.dish.rounds.size());
  if (opened.notes.empty() && !offer) return;
  Notice notice{.title = "Opened " + name, .lines = std::move(opened.notes)};
  if (offer) {
    notice.lines.emplace_back(
        "It is of the dish that was open, whose log holds other rounds. Undo brings that one "
        "back.");
    notice.offer = std::move(offer);
  }
  tell(session, std::move(notice));
}

void open_spots(Session& session, const std::string& name, std::string_view bytes) {
  auto read = tasks::spots_of_file(session.document.dish, bytes, name);
  if (!read) {
    tell_problems(session, "No spots taken from " + name, read.problems());
    return;
  }
  tasks::SpotsOfFile spots = std::move(read).value();
  const std::size_t count = spots.spots.size();
  if (!add_round(session, std::move(spots.spots), "Spots from " + name)) return;
  Notice notice{.title = fmt::format("{} spots from {} are a new round", count, name),
                .lines = std::move(spots.notes)};
  tell(session, std::move(notice));
}

/// Puts a measured map where it belongs. Nothing when the person has to say where first.
std::optional<dish::Edit> edit_for_map(const Session& session, dish::SharedSagMap map) {
  const dish::Dish& dish = session.document.dish;
  if (session.selection.selected) {
    return dish::edit::SetFacetSagMap{*session.selection.selected, std::move(map)};
  }
  if (dish.facet_types.size() != 1) return {};
  dish::FacetType type = dish.facet_types.front();
  type.form_error.sag_map = std::move(map);
  return dish::edit::UpsertFacetType{std::move(type)};
}

/// A table's first line that is no comment.
std::string_view head_row(std::string_view bytes) {
  std::string_view head = without_blanks(bytes);
  while (begins_with(head, "#")) {
    head.remove_prefix(std::min(head.find_first_of("\r\n"), head.size()));
    head = without_blanks(head);
  }
  return head.substr(0, head.find_first_of("\r\n"));
}

/// Readings go to the round shown, which they stand beside its spots in.
template <class Edit, class Reading>
void open_readings(Session& session, const std::string& name, const char* what,
                   const base::Result<files::ReadReadings<Reading>>& read) {
  if (!read) {
    tell_problems(session, "No readings taken from " + name, read.problems());
    return;
  }
  const std::size_t count = read.value().readings.size();
  std::map<std::string, std::vector<Reading>> by_facet;
  for (const Reading& one : read.value().readings) by_facet[one.facet.text].push_back(one);
  std::vector<std::string> notes = read.value().notes;
  std::vector<dish::Edit> edits;
  const dish::Round* shown = shown_round(session);
  dish::Round round = shown != nullptr ? *shown : dish::Round{.name = "Round 1"};
  if (std::is_same_v<Reading, dish::Lean> && !round.elevation_rad) {
    round.elevation_rad = dish::ranges::of(dish::ranges::Quantity::elevation).fallback;
    notes.push_back(
        fmt::format("The dish is taken to have pointed {:.0f}° above the horizon: set what it was.",
                    base::deg_from_rad(*round.elevation_rad)));
  }
  const std::size_t place = shown != nullptr ? session.round : 0;
  if (shown == nullptr) {
    edits.emplace_back(dish::edit::AddRound{round});
  } else {
    edits.emplace_back(dish::edit::ReplaceRound{place, round});
  }
  for (const auto& [facet, readings] : by_facet) edits.emplace_back(Edit{place, {facet}, readings});
  if (!change(session, edits, fmt::format("Take {} from {}", what, name))) return;
  show_round(session, place);
  tell(session, {.title = fmt::format("{} {} from {} are in the round", count, what, name),
                 .lines = std::move(notes)});
}

void open_table(Session& session, const std::string& name, std::string_view bytes) {
  const std::string_view head = head_row(bytes);
  const dish::Dish& dish = session.document.dish;
  if (head.find("reading_deg") != std::string_view::npos) {
    return open_readings<dish::edit::SetLeans>(session, name, "leans",
                                               files::read_leans(bytes, name, dish));
  }
  if (head.find("height_mm") != std::string_view::npos) {
    return open_readings<dish::edit::SetHeights>(session, name, "heights",
                                                 files::read_heights(bytes, name, dish));
  }
  open_spots(session, name, bytes);
}

void open_sag_map(Session& session, const std::string& name, std::string_view bytes) {
  auto read = files::read_sag_map(bytes, name);
  if (!read) {
    tell_problems(session, "No map taken from " + name, read.problems());
    return;
  }
  const auto map = std::make_shared<const dish::SagMap>(std::move(read).value());
  const auto edit = edit_for_map(session, map);
  if (!edit) {
    tell(session, {.kind = Notice::Kind::warning,
                   .title = "Whose map is " + name + "?",
                   .lines = {"Select the facet that was measured, then bring the map again."}});
    return;
  }
  if (!change(session, {*edit}, "Take the form from " + name)) return;
  const auto& selected = session.selection.selected;
  tell(session,
       {.title = fmt::format("{}: {} by {} heights are now the form of {}", name, map->columns,
                             map->rows, selected ? "facet " + selected->text : "every facet")});
}

void refuse(Session& session, const std::string& name, const std::string& why) {
  tell(session,
       {.kind = Notice::Kind::error, .title = "Not opened: " + name, .lines = {why, k_what_opens}});
}

}  // namespace

Arrival arrival_of(std::string_view name, std::string_view bytes) {
  const std::string_view head = without_blanks(bytes.substr(0, k_looked_at_bytes));
  if (bytes.empty()) return Arrival::nothing;
  if (has_control_bytes(head)) return is_picture(head) ? Arrival::picture : Arrival::unknown;
  if (head.empty()) return bytes.size() <= k_looked_at_bytes ? Arrival::nothing : Arrival::unknown;
  if (head.front() == '{' || ends_with(name, ".json")) return Arrival::dish;
  const Arrival table = begins_sag_map(head) ? Arrival::sag_map : Arrival::spots;
  for (const char* ending : {".csv", ".tsv", ".txt"})
    if (ends_with(name, ending)) return table;
  // Text without a telling name: a table has a separator in its first line.
  const std::string_view line = head.substr(0, head.find_first_of("\r\n"));
  return line.find_first_of(",;\t") != std::string_view::npos ? table : Arrival::unknown;
}

void take_bytes(Session& session, const std::string& name, std::string_view bytes) {
  const std::string shown = name.empty() ? std::string(k_pasted_name) : name;
  switch (arrival_of(name, bytes)) {
    case Arrival::dish:
      return open_dish(session, shown, bytes);
    case Arrival::spots:
      return open_table(session, shown, bytes);
    case Arrival::sag_map:
      return open_sag_map(session, shown, bytes);
    case Arrival::nothing:
      return refuse(session, shown, "It is empty.");
    case Arrival::picture:
      return refuse(session, shown, "It is a picture that cannot be read.");
    case Arrival::unknown:
      return refuse(session, shown, "It is neither a dish file nor a table of spots.");
  }
}

void carry_out(Session& session, const act::OpenBytes& wish) {
  take_bytes(session, wish.name, wish.bytes);
}

void carry_out(Session& session, const act::OpenDemo& wish) {
  auto read = read_demo(wish.name);
  if (!read) {
    tell_problems(session, "Not opened: " + wish.name, read.problems());
    return;
  }
  ReadDemo demo = std::move(read).value();
  take_document(session,
                replace_dish(session.document, std::move(demo.dish), std::move(demo.file_name)));
  show_round(session, session.document.dish.rounds.size());
}

}  // namespace session
