// Written by hand: JSON libraries stay below the page.
#include "page/report.h"

#include <fmt/format.h>

#include <array>

#include <cmath>
#include <iterator>
#include <string_view>

#include "base/units.h"
#include "session/figures.h"
#include "session/on_site.h"
#include "session/photos.h"
#include "session/trial.h"

namespace page {
namespace {

std::string json_word(std::string_view text) {
  std::string out = "\"";
  for (const char letter : text) {
    const auto code = static_cast<unsigned char>(letter);
    if (letter == '"' || letter == '\\') out += '\\';
    if (code < 0x20) {
      out += fmt::format("\\u{:04x}", code);
    } else {
      out += letter;
    }
  }
  return out + '"';
}

std::string number(double value) {
  return std::isfinite(value) ? fmt::format("{:.9g}", value) : "null";
}

std::string facet_name(const std::optional<dish::FacetId>& facet) {
  return facet.has_value() ? json_word(facet->text) : "null";
}

const char* stage_name(session::Stage stage) {
  switch (stage) {
    case session::Stage::lay_out:
      return "lay out";
    case session::Stage::form:
      return "form";
    case session::Stage::mount:
      return "mount";
    case session::Stage::light:
      return "light";
    case session::Stage::align:
      return "align";
  }
  return "";
}

std::string light_text(const session::Session& session) {
  const optics::TraceResult* light = session::light_of(session);
  if (light == nullptr) return "null";
  return fmt::format(
      R"({{"receiver_W":{},"intercept":{},"peak_W_m2":{},"centroid_mm":[{},{}],"full":{}}})",
      number(light->power_receiver_W), number(light->intercept_factor), number(light->peak_W_m2),
      number(base::mm_from_m(light->centroid_m.x)), number(base::mm_from_m(light->centroid_m.y)),
      session::shows_full_trace(session));
}

std::string turns_of(const session::Session& session) {
  if (!session.selection.selected.has_value()) return "{}";
  const align::Correction* correction =
      session::correction_of(session, *session.selection.selected);
  if (correction == nullptr) return "{}";
  std::string out = "{";
  for (const align::ScrewCorrection& screw : correction->screws) {
    if (out.size() > 1) out += ',';
    out += json_word(screw.label) + ":" + number(screw.turns);
  }
  return out + "}";
}

const char* state_name(session::StudyState state) {
  constexpr std::array names = {"none", "running", "done", "cancelled", "failed"};
  return names[static_cast<std::size_t>(state)];
}

std::string budget_text(const session::Session& session) {
  const auto& study = session.studies.budget;
  std::string gains;
  if (study.reply.has_value()) {
    for (const optics::CauseCost& cost : study.reply->budget.costs) {
      if (!gains.empty()) gains += ',';
      gains += json_word(optics::key_of(cost.cause)) + ":" + number(cost.gain_W);
    }
  }
  return fmt::format(R"({{"state":"{}","gains_W":{{{}}}}})", state_name(study.state), gains);
}

std::string forms_text(const session::Session& session) {
  const auto& study = session.studies.forms;
  std::string watts;
  if (study.reply.has_value()) {
    for (const optics::FormOption& option : study.reply->choice.options) {
      if (!watts.empty()) watts += ',';
      watts += number(option.receiver_W);
    }
  }
  return fmt::format(R"({{"state":"{}","options_W":[{}]}})", state_name(study.state), watts);
}

std::string photos_text(const session::Session& session) {
  const session::PhotoWork& work = session.photo_work;
  std::size_t spots = 0;
  std::size_t sure = 0;
  for (std::size_t k = 0; k < work.photos.size(); ++k) {
    for (const session::NamedSpot& named : session::spots_of_photo(session, k)) {
      ++spots;
      sure += named.facet && named.doubt == naming::Doubt::none ? 1 : 0;
    }
  }
  return fmt::format(
      R"({{"count":{},"shown":{},"board_mm":[{},{}],"before_focus_mm":{},"spots":{},"sure":{}}})",
      work.photos.size(), work.shown, number(base::mm_from_m(work.board.width_m)),
      number(base::mm_from_m(work.board.height_m)), number(base::mm_from_m(work.before_focus_m)),
      spots, sure);
}

std::string practice_text(const session::Session& session) {
  const session::PracticeWork& work = session.practice;
  return fmt::format(R"({{"on":{},"looks":{},"start_mrad":{},"left_mrad":{}}})", work.on,
                     work.looks, number(base::mrad_from_rad(work.start_rms_rad)),
                     work.told_rms_rad ? number(base::mrad_from_rad(*work.told_rms_rad)) : "null");
}

std::string trial_text(const session::Session& session) {
  const auto trial = session::shown_trial(session);
  return fmt::format(R"({{"looks":{},"says":{},"sure":{}}})", trial ? trial->looks : 0,
                     json_word(session.trial.value ? session.trial.value->sentence : ""),
                     session.trial.value && session.trial.value->labels.act);
}

}  // namespace

std::string report(const session::Session& session) {
  const dish::Dish& dish = session.document.dish;
  const dish::Round* round = session::shown_round(session);
  std::string out = "{";
  auto to = std::back_inserter(out);
  fmt::format_to(to, R"("stage":"{}","dish":{},"revision":{},"facets":{},)",
                 stage_name(session.stage), json_word(dish.name), session.document.revision,
                 dish.facets.size());
  fmt::format_to(to, R"("selected":{},"screw":{},"hovered":{},)",
                 facet_name(session.selection.selected), session.selection.screw,
                 facet_name(session.selection.hovered));
  fmt::format_to(to, R"("round":{},"spots":{},"light":{},"turns":{},)", session.round,
                 round == nullptr ? 0 : round->spots.size(), light_text(session),
                 turns_of(session));
  const session::WorkCount work = session::count_work(session);
  fmt::format_to(to, R"("on_site":{{"shown":{},"hand":{},"done":{},"all":{}}},)",
                 session.on_site.shown, facet_name(session::facet_in_hand(session)), work.done,
                 work.all);
  fmt::format_to(to, R"("photos":{},"practice":{},"trial":{},"rounds":{},)", photos_text(session),
                 practice_text(session), trial_text(session), dish.rounds.size());
  fmt::format_to(to, R"("budget":{},"forms":{},"search":"{}","shadows":{},)", budget_text(session),
                 forms_text(session), state_name(session.studies.search.state),
                 session.shadows.value.has_value());
  fmt::format_to(to, R"("full_parts":{},"notices":{}}})", session.full.parts_done,
                 session.notices.size());
  return out;
}

}  // namespace page
