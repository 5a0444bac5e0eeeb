// The command table: every command can be reached by its keys and does something.
#include <doctest/doctest.h>

#include <map>
#include <set>
#include <string>

#include "session/commands.h"
#include "session/figures.h"
#include "session/sitting.h"

namespace {

using session::Command;
using session::Session;
namespace act = session::act;

/// Everything a command can change, as text: two sittings that differ anywhere differ here.
std::string traces_of(const Session& session) {
  std::string text = session::to_storage(session);
  const auto& outbox = session.outbox;
  for (const std::size_t count :
       {session.notices.size(), outbox.jobs.size(), outbox.cancelled_jobs.size(),
        outbox.saves.size(), std::size_t{outbox.link.has_value()}, std::size_t{outbox.ask_open},
        session.document.undo_steps.size(), session.document.redo_steps.size(),
        std::size_t{session.document.step_open}, static_cast<std::size_t>(session.full.state),
        std::size_t{session.preferences.keys_shown}, std::size_t{session.on_site.shown},
        session.on_site.place, session.on_site.again.size(), session.on_site.skipped.size()})
    text += " " + std::to_string(count);
  return text;
}

/// A sitting where the command of this name is possible.
Session where_possible(const Session& start, const std::string& name) {
  Session session = start;
  const std::string facet = sitting::first_facet(session);
  const auto displaced = sitting::displace(facet, 0, 4e-4);
  const auto also_displaced = sitting::displace(sitting::id_of(session, 7), 1, 4e-4);
  const session::Actions on_site = {displaced, also_displaced, act::SpotsFromLight{},
                                    act::WorkOnSite{}};
  const std::map<std::string, session::Actions> ways = {
      {"Work facet by facet, on site", {displaced, act::SpotsFromLight{}}},
      {"The turns of this facet are done", on_site},
      {"Look at this facet again later", on_site},
      {"Skip this facet", on_site},
      {"Next facet of the work", on_site},
      {"Facet of the work before", on_site},
      {"Leave the work on site", on_site},
      {"Undo", {displaced}},
      {"Redo", {displaced, act::Undo{}}},
      {"Give up the drag", {act::BeginDrag{"Turn"}, displaced}},
      {"Next stage", {act::GoToStage{session::Stage::mount}}},
      {"Put the keys away", {act::ShowKeys{true}}},
      {"Dismiss the newest notice", {act::OpenDemo{"No Such Place"}}},
      {"Select nothing", {act::Select{dish::FacetId{facet}}}},
      {"Select screw 1", {act::Select{dish::FacetId{facet}}}},
      {"Select screw 2", {act::Select{dish::FacetId{facet}}}},
      {"Select screw 3", {act::Select{dish::FacetId{facet}}}},
      {"Turn the screw one click clockwise, as you see it", {act::Select{dish::FacetId{facet}, 0}}},
      {"Turn the screw one click anticlockwise, as you see it",
       {act::Select{dish::FacetId{facet}, 0}}},
      {"Put the facet's screws back to nominal", {displaced, act::Select{dish::FacetId{facet}}}},
      {"The told turns are done", {displaced, act::SpotsFromLight{}}},
      {"Next round", {act::SpotsFromLight{}, act::SpotsFromLight{}, act::SetRound{0}}},
      {"Previous round", {act::SpotsFromLight{}, act::SpotsFromLight{}}},
      {"Save the dish as a file", {displaced}},
      {"Save the spots as a table", {act::SpotsFromLight{}}},
      {"Save the turns as a table", {act::SpotsFromLight{}}},
      {"Stop the full trace", {act::StartFullTrace{}}},
      {"Put the sun back on the axis", {act::SetTrackingError{{0.001, 0.0}}}},
  };
  const auto way = ways.find(name);
  if (way != ways.end()) session::apply(session, way->second);
  return session;
}

}  // namespace

TEST_CASE("commands have names and keys of their own") {
  std::set<std::string> names;
  std::map<std::string, int> uses;
  for (const Command& command : session::commands()) {
    INFO(command.name);
    CHECK(names.insert(command.name).second);
    REQUIRE(std::string(command.keys) != "");
    CHECK(std::string(session::to_text(command.group)) != "");
    CHECK(session::find_command(command.name) == &command);
    ++uses[command.keys];
    if (*command.also != '\0') ++uses[command.also];
  }
  // Only Escape means several things, one after the other, and the keys of the work on site.
  for (const Command& command : session::commands()) {
    if (command.group != session::CommandGroup::on_site) continue;
    for (const std::string keys : {command.keys, command.also}) uses[keys] = 1;
  }
  for (const auto& use : uses) {
    INFO(use.first);
    CHECK((use.second == 1 || use.first == "Escape"));
  }
  CHECK(session::find_command("Brew coffee") == nullptr);
}

TEST_CASE("every command is reached by its keys and does something") {
  const Session start = sitting::at_nominal();
  for (const Command& command : session::commands()) {
    INFO(command.name);
    Session session = where_possible(start, command.name);
    REQUIRE(command.possible(session));
    CHECK(session::command_of_keys(session, command.keys) == &command);
    if (*command.also != '\0') CHECK(session::command_of_keys(session, command.also) == &command);
    const std::string before = traces_of(session);
    session::apply(session, command.actions(session));
    CHECK((traces_of(session) != before));
  }
}

TEST_CASE("what is not possible has no keys at that moment") {
  const Session session = sitting::at_nominal();
  for (const char* keys :
       {"Ctrl+Z", "Ctrl+Shift+Z", "Escape", "X", "1", "+", "D", "R", "Shift+F"}) {
    INFO(keys);
    CHECK(session::command_of_keys(session, keys) == nullptr);
  }
  CHECK(session::command_of_keys(session, "") == nullptr);
  CHECK(session::command_of_keys(session, "Ctrl+Alt+Q") == nullptr);
}

TEST_CASE("escape gives up the drag first, then puts the keys away, then lets the facet go") {
  Session session = sitting::at_nominal();
  const std::string facet = sitting::first_facet(session);
  session::apply(session, {act::Select{dish::FacetId{facet}}, act::ShowKeys{true},
                           act::BeginDrag{"Turn"}, sitting::displace(facet, 0, 4e-4)});
  for (const char* name : {"Give up the drag", "Put the keys away", "Select nothing"}) {
    const Command* command = session::command_of_keys(session, "Escape");
    REQUIRE(command != nullptr);
    CHECK(std::string(command->name) == name);
    session::apply(session, command->actions(session));
  }
  CHECK(session::command_of_keys(session, "Escape") == nullptr);
}

TEST_CASE("a click clockwise goes the way the person sees it, from either side") {
  Session session = sitting::at_nominal();
  session::apply(session, {act::Select{session.document.dish.facets.front().id, 0}});
  const double click_m = session::screw_figures(session, 0, 0)->click_m;
  const auto press = [&](const char* keys) {
    const Command* command = session::command_of_keys(session, keys);
    REQUIRE(command != nullptr);
    session::apply(session, command->actions(session));
    return session.document.dish.facets.front().displacement_m[0];
  };
  const dish::Side turned_from = session::adjuster_of(session, 0, 0)->turned_from;
  const bool from_back = turned_from == dish::Side::back;
  session::apply(session, {act::SetSide{turned_from}});
  CHECK(press("+") == doctest::Approx(click_m).epsilon(1e-12));
  CHECK(std::abs(press("-")) < 1e-15);
  session::apply(session, {act::SetSide{from_back ? dish::Side::front : dish::Side::back}});
  CHECK(press("+") == doctest::Approx(-click_m).epsilon(1e-12));
}

TEST_CASE("the next facet goes round all of them, either way") {
  Session session = sitting::at_nominal();
  const auto& facets = session.document.dish.facets;
  session::apply(session, {act::SelectNext{-1}});
  CHECK(*session.selection.selected == facets.back().id);
  session::apply(session, {act::SelectNext{1}});
  CHECK(*session.selection.selected == facets.front().id);
  session::apply(session, {act::SelectNext{1}});
  CHECK(*session.selection.selected == facets[1].id);
}
