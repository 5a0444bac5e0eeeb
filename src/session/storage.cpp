// A sitting as text: a first line, one line for each preference, then the dish file word for word.
// Keys of a newer version are passed over; a value that cannot be is a problem.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>
#include <utility>

#include "dish/ranges.h"
#include "files/decimal.h"
#include "files/dish_read.h"
#include "files/dish_write.h"
#include "session/derive.h"
#include "session/on_site.h"
#include "session/session.h"
#include "session/words.h"

namespace session {
namespace {

constexpr std::string_view k_first_line = "facetwright sitting 1";
constexpr std::string_view k_dish_line = "dish";
constexpr const char* k_place = "kept sitting";

/// One preference: how it is written (nothing: not at all) and read. Reading answers false when
/// the text is none of its values.
struct Field {
  const char* key;
  std::optional<std::string> (*write)(const Session&);
  bool (*read)(Session&, const std::string&);
  const char* expected;
};

std::string number_text(double value) { return files::text_from_number(value); }

bool read_number(const std::string& text, double least, double most, double& value) {
  const auto number = files::number_from_text(text);
  if (!number || *number < least || *number > most) return false;
  value = *number;
  return true;
}

bool read_whole(const std::string& text, int least, int most, int& value) {
  double number = 0.0;
  if (!read_number(text, least, most, number) || number != std::floor(number)) return false;
  value = static_cast<int>(number);
  return true;
}

template <class Enum, std::size_t n>
bool read_word(const std::string& text, const std::array<const char*, n>& words, Enum& value) {
  const auto found = std::find(words.begin(), words.end(), text);
  if (found == words.end()) return false;
  value = static_cast<Enum>(found - words.begin());
  return true;
}

template <std::size_t n>
std::string flags_text(const std::array<bool, n>& flags) {
  std::string text;
  for (const bool flag : flags) text += flag ? '1' : '0';
  return text;
}

template <std::size_t n>
bool read_flags(const std::string& text, std::array<bool, n>& flags) {
  if (text.size() != n || text.find_first_not_of("01") != std::string::npos) return false;
  for (std::size_t i = 0; i < n; ++i) flags[i] = text[i] == '1';
  return true;
}

bool read_flag(const std::string& text, bool& flag) {
  std::array<bool, 1> flags{};
  if (!read_flags(text, flags)) return false;
  flag = flags[0];
  return true;
}

/// Facets one after the other; no name holds a line's end.
std::string ids_text(const std::vector<dish::FacetId>& ids) {
  std::string text;
  for (const dish::FacetId& id : ids) text += (text.empty() ? "" : "\n") + id.text;
  return text;
}

bool read_ids(const std::string& text, std::vector<dish::FacetId>& ids) {
  std::string_view rest = text;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    ids.push_back({std::string(rest.substr(0, end))});
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return true;
}

constexpr double k_most_sun_rad = 0.2;
constexpr double k_most_sigma = 1.0;
constexpr int k_most_round = 1'000'000;
using Kept = std::optional<std::string>;

// The order is that of the text. Flags are digits 0 and 1.
constexpr std::array k_fields = {
    Field{"theme",
          [](const Session& s) -> Kept { return word(k_theme_words, s.preferences.theme); },
          [](Session& s, const std::string& t) {
            return read_word(t, k_theme_words, s.preferences.theme);
          },
          "lamp or noon"},
    Field{"side",
          [](const Session& s) -> Kept {
            if (!s.preferences.side) return {};
            return word(k_side_words, *s.preferences.side);
          },
          [](Session& s, const std::string& t) {
            return read_word(t, k_side_words, s.preferences.side.emplace());
          },
          "back or front"},
    Field{"tint", [](const Session& s) -> Kept { return word(k_tint_words, s.preferences.tint); },
          [](Session& s, const std::string& t) {
            return read_word(t, k_tint_words, s.preferences.tint);
          },
          "a quantity to colour facets by"},
    Field{"exposure_stops",
          [](const Session& s) -> Kept { return number_text(s.preferences.exposure_stops); },
          [](Session& s, const std::string& t) {
            return read_number(t, -8.0, 8.0, s.preferences.exposure_stops);
          },
          "-8 to 8"},
    Field{"picture_rays",
          [](const Session& s) -> Kept { return fmt::format("{}", s.preferences.picture_rays); },
          [](Session& s, const std::string& t) {
            return read_whole(t, 0, k_picture_rays.back(), s.preferences.picture_rays);
          },
          "0 to 37"},
    Field{"stage", [](const Session& s) -> Kept { return word(k_stage_words, s.stage); },
          [](Session& s, const std::string& t) { return read_word(t, k_stage_words, s.stage); },
          "a stage of the job"},
    Field{"selected",
          [](const Session& s) -> Kept {
            if (!s.selection.selected) return {};
            return s.selection.selected->text;
          },
          [](Session& s, const std::string& t) {
            s.selection.selected = dish::FacetId{t};
            return true;
          },
          "a facet"},
    Field{"screw", [](const Session& s) -> Kept { return fmt::format("{}", s.selection.screw); },
          [](Session& s, const std::string& t) { return read_whole(t, -1, 2, s.selection.screw); },
          "-1 to 2"},
    Field{"sun_x_rad", [](const Session& s) -> Kept { return number_text(s.tracking_error_rad.x); },
          [](Session& s, const std::string& t) {
            return read_number(t, -k_most_sun_rad, k_most_sun_rad, s.tracking_error_rad.x);
          },
          "-0.2 to 0.2"},
    Field{"sun_y_rad", [](const Session& s) -> Kept { return number_text(s.tracking_error_rad.y); },
          [](Session& s, const std::string& t) {
            return read_number(t, -k_most_sun_rad, k_most_sun_rad, s.tracking_error_rad.y);
          },
          "-0.2 to 0.2"},
    Field{"round", [](const Session& s) -> Kept { return fmt::format("{}", s.round); },
          [](Session& s, const std::string& t) {
            int round = 0;
            if (!read_whole(t, 0, k_most_round, round)) return false;
            s.round = static_cast<std::size_t>(round);
            return true;
          },
          "a round's number"},
    Field{"work_shown", [](const Session& s) -> Kept { return flags_text<1>({s.on_site.shown}); },
          [](Session& s, const std::string& t) { return read_flag(t, s.on_site.shown); }, "0 or 1"},
    Field{"work_round", [](const Session& s) -> Kept { return fmt::format("{}", s.on_site.round); },
          [](Session& s, const std::string& t) {
            int round = 0;
            if (!read_whole(t, 0, k_most_round, round)) return false;
            s.on_site.round = static_cast<std::size_t>(round);
            return true;
          },
          "a round's number"},
    Field{"work_again", [](const Session& s) -> Kept { return ids_text(s.on_site.again); },
          [](Session& s, const std::string& t) { return read_ids(t, s.on_site.again); }, "facets"},
    Field{"work_skipped", [](const Session& s) -> Kept { return ids_text(s.on_site.skipped); },
          [](Session& s, const std::string& t) { return read_ids(t, s.on_site.skipped); },
          "facets"},
    Field{"piston",
          [](const Session& s) -> Kept { return word(k_piston_words, s.plan_request.piston); },
          [](Session& s, const std::string& t) {
            return read_word(t, k_piston_words, s.plan_request.piston);
          },
          "a convention for the third freedom"},
    Field{"held_screw", [](const Session& s) -> Kept { return s.plan_request.held_screw; },
          [](Session& s, const std::string& t) {
            s.plan_request.held_screw = t;
            return true;
          },
          "a screw's label"},
    Field{"left_out", [](const Session& s) -> Kept { return flags_text(s.plan_request.left_out); },
          [](Session& s, const std::string& t) { return read_flags(t, s.plan_request.left_out); },
          "six flags"},
    Field{"clicks_per_turn",
          [](const Session& s) -> Kept {
            if (!s.plan_request.clicks_per_turn) return {};
            return fmt::format("{}", *s.plan_request.clicks_per_turn);
          },
          [](Session& s, const std::string& t) {
            return read_whole(t, 1, 360, s.plan_request.clicks_per_turn.emplace());
          },
          "1 to 360"},
    Field{"spot_is_centroid",
          [](const Session& s) -> Kept { return flags_text<1>({s.plan_request.spot_is_centroid}); },
          [](Session& s, const std::string& t) {
            return read_flag(t, s.plan_request.spot_is_centroid);
          },
          "0 or 1"},
    Field{
        "secondary_in_place",
        [](const Session& s) -> Kept { return flags_text<1>({s.plan_request.secondary_in_place}); },
        [](Session& s, const std::string& t) {
          return read_flag(t, s.plan_request.secondary_in_place);
        },
        "0 or 1"},
    Field{"pivot",
          [](const Session& s) -> Kept { return word(k_pivot_words, s.plan_request.pivot); },
          [](Session& s, const std::string& t) {
            return read_word(t, k_pivot_words, s.plan_request.pivot);
          },
          "mount or fixed"},
    Field{"spot_sigma_m",
          [](const Session& s) -> Kept { return number_text(s.plan_request.spot_sigma_m); },
          [](Session& s, const std::string& t) {
            return read_number(t, 0.0, k_most_sigma, s.plan_request.spot_sigma_m);
          },
          "0 to 1"},
    Field{"turn_sigma_turns",
          [](const Session& s) -> Kept { return number_text(s.plan_request.turn_sigma_turns); },
          [](Session& s, const std::string& t) {
            return read_number(t, 0.0, k_most_sigma, s.plan_request.turn_sigma_turns);
          },
          "0 to 1"},
    Field{"hints", [](const Session& s) -> Kept { return flags_text(s.hints_done); },
          [](Session& s, const std::string& t) { return read_flags(t, s.hints_done); },
          "three flags"},
    Field{"file_name", [](const Session& s) -> Kept { return s.document.file_name; },
          [](Session& s, const std::string& t) {
            s.document.file_name = t;
            return true;
          },
          "a file's name"},
    Field{"saved",
          [](const Session& s) -> Kept { return flags_text<1>({!is_unsaved(s.document)}); },
          [](Session& s, const std::string& t) {
            bool saved = false;
            if (!read_flag(t, saved)) return false;
            s.document.saved_revision = saved ? s.document.revision : 0;
            return true;
          },
          "0 or 1"},
};

/// Free text on one line: a line's end and the backslash are written as two signs.
std::string on_one_line(const std::string& text) {
  std::string line;
  for (const char c : text) {
    if (c == '\\')
      line += "\\\\";
    else if (c == '\n')
      line += "\\n";
    else
      line += c;
  }
  return line;
}

std::string from_one_line(std::string_view line) {
  std::string text;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const bool escaped = line[i] == '\\' && i + 1 < line.size();
    if (escaped) ++i;
    text += escaped && line[i] == 'n' ? '\n' : line[i];
  }
  return text;
}

std::string_view take_line(std::string_view& rest) {
  const std::size_t end = rest.find('\n');
  const std::string_view line = rest.substr(0, end);
  rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
  return line;
}

/// One line of preferences into the session.
base::Problems take_preference(Session& session, std::string_view line) {
  const std::size_t equals = line.find('=');
  if (equals == std::string_view::npos)
    return {{k_place, from_one_line(line.substr(0, 40)), "a line key=value"}};
  const std::string_view key = line.substr(0, equals);
  const std::string text = from_one_line(line.substr(equals + 1));
  for (const Field& field : k_fields) {
    if (field.key != key) continue;
    if (field.read(session, text)) return {};
    return {{fmt::format("{}, {}", k_place, key), text, field.expected}};
  }
  return {};
}

}  // namespace

std::string to_storage(const Session& session) {
  std::string text = std::string(k_first_line) + "\n";
  for (const Field& field : k_fields) {
    const Kept value = field.write(session);
    if (value) text += fmt::format("{}={}\n", field.key, on_one_line(*value));
  }
  return text + std::string(k_dish_line) + "\n" + files::write_dish(session.document.dish);
}

base::Result<Session> from_storage(const std::string& bytes) {
  std::string_view rest = bytes;
  if (const std::string_view first = take_line(rest); first != k_first_line)
    return base::Problem{k_place, std::string(first.substr(0, 40)), std::string(k_first_line)};
  Session session;
  base::Problems problems;
  bool found_dish = false;
  while (!rest.empty() && !found_dish) {
    const std::string_view line = take_line(rest);
    found_dish = line == k_dish_line;
    if (found_dish) continue;
    for (base::Problem& problem : take_preference(session, line))
      problems.push_back(std::move(problem));
  }
  if (!found_dish) problems.push_back({k_place, "it ends too early", "a dish"});
  if (!problems.empty()) return problems;
  auto read = files::read_dish(rest, k_place);
  if (!read) return read.problems();
  session.document.dish = std::move(std::move(read).value().dish);
  derive(session);
  resume_work(session);
  return session;
}

}  // namespace session
