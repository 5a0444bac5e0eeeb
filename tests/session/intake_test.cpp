// Whatever arrives, nothing that is open gets lost, and the person is told in plain words.
#include <doctest/doctest.h>

#include <chrono>

#include "files/dish_write.h"
#include "session/figures.h"
#include "session/intake.h"
#include "session/sitting.h"
#include "support/demo_dishes.h"

namespace {

using session::Arrival;
using session::Session;
namespace act = session::act;

/// Bytes that must leave dish and history as they were and bring a notice.
void refuses(const std::string& name, const std::string& bytes, const std::string& says) {
  Session session = sitting::at_nominal();
  const std::string before = sitting::bytes_of(session);
  session::apply(session, {act::OpenBytes{name, bytes}});
  INFO(name, " of ", bytes.size(), " bytes");
  CHECK((sitting::bytes_of(session) == before));
  CHECK(session.document.undo_steps.empty());
  REQUIRE(session.notices.size() == 1);
  CHECK(session.notices.front().kind == session::Notice::Kind::error);
  CHECK(sitting::says(session, says));
}

}  // namespace

TEST_CASE("a dish file takes the open dish's place as one step that undo takes back") {
  Session session = sitting::at_nominal();
  const std::string before = sitting::bytes_of(session);
  const std::string bytes = files::write_dish(support::kiln_yard());
  session::apply(session, {act::OpenBytes{"yard.dish.json", bytes}});
  CHECK((sitting::bytes_of(session) == bytes));
  CHECK(session.document.file_name == "yard.dish.json");
  CHECK(session.live.value->spots.size() == session.document.dish.facets.size());
  session::apply(session, {act::Undo{}});
  CHECK((sitting::bytes_of(session) == before));
  CHECK(session.document.file_name == "tested.dish.json");
}

TEST_CASE("another person's file of the same dish offers to join the two logs") {
  Session session = sitting::at_nominal();
  const dish::FacetId first{sitting::id_of(session, 0)};
  const dish::FacetId second{sitting::id_of(session, 1)};
  dish::Dish theirs = session.document.dish;
  theirs.rounds.push_back({.name = "Theirs", .spots = {{second, {0.002, 0.001}}}});
  session::apply(session,
                 {act::Change{dish::edit::AddRound{{.name = "Mine", .spots = {{first, {}}}}}},
                  act::OpenBytes{"theirs.dish.json", files::write_dish(theirs)}});
  REQUIRE(session.document.dish.rounds.size() == 1);
  REQUIRE(session.notices.size() == 1);
  REQUIRE(session.notices.front().offer.has_value());
  session::apply(session, {session.notices.front().offer->wish});
  REQUIRE(session.document.dish.rounds.size() == 2);
  CHECK(sitting::says(session, "2 rounds"));
  session::apply(session, {act::Undo{}});
  CHECK(session.document.dish.rounds.size() == 1);
  // A file that holds nothing new for the other offers nothing.
  session.notices.clear();
  session::apply(session, {act::OpenBytes{"again.dish.json", files::write_dish(theirs)}});
  CHECK(session.notices.empty());
}

TEST_CASE("a dish file cut off anywhere leaves everything as it was and says so") {
  const std::string whole = files::write_dish(support::kiln_yard());
  Session session = sitting::at_nominal();
  const std::string before = sitting::bytes_of(session);
  // The final line end alone may be missing.
  for (std::size_t length = 1; length + 2 < whole.size(); length += 211) {
    session.notices.clear();
    session::take_bytes(session, "cut.dish.json", std::string_view(whole).substr(0, length));
    INFO("cut at ", length);
    REQUIRE(session.notices.size() == 1);
    CHECK(session.notices.front().kind == session::Notice::Kind::error);
    CHECK(session.document.undo_steps.empty());
  }
  CHECK((sitting::bytes_of(session) == before));
}

TEST_CASE("a hundred megabytes of nothing sensible are refused at once") {
  constexpr std::size_t k_size = 100'000'000;
  const auto begin = std::chrono::steady_clock::now();
  refuses("zeros.dish.json", std::string(k_size, '\0'), "neither a dish file nor a table");
  refuses("zeros.csv", std::string(k_size, '\0'), "neither a dish file nor a table");
  refuses("blanks.dish.json", std::string(k_size, ' '), "neither a dish file nor a table");
  refuses("open.dish.json", std::string(k_size, '{'), "open.dish.json");
  refuses("commas.csv", std::string(k_size, ','), "commas.csv");
  const auto took = std::chrono::steady_clock::now() - begin;
  // Making and copying the bytes alone takes about a second; the rest must not take minutes.
  CHECK(std::chrono::duration<double>(took).count() < 60.0);
}

TEST_CASE("what is neither a dish nor spots is named for what it is") {
  refuses("nothing.csv", "", "It is empty");
  refuses("blank.txt", " \n\r\n ", "It is empty");
  refuses("photo.jpg", std::string("\xFF\xD8\xFF\xE0\0\x10JFIF\0", 12),
          "It is a picture that cannot be read");
  refuses("scan.png", "\x89PNG\r\n\x1a\n", "It is a picture that cannot be read");
  refuses("", "good morning", "neither a dish file nor a table");
  refuses("list.json", "[1, 2, 3]", "list.json");
}

TEST_CASE("bytes are told apart by what they are before their name is asked") {
  CHECK(session::arrival_of("", "{\"format\": 1}") == Arrival::dish);
  CHECK(session::arrival_of("odd.csv", "\xEF\xBB\xBF {") == Arrival::dish);
  CHECK(session::arrival_of("X.JSON", "12") == Arrival::dish);
  CHECK(session::arrival_of("", "A1\t2\t3") == Arrival::spots);
  CHECK(session::arrival_of("", "BM1,2,3") == Arrival::spots);
  CHECK(session::arrival_of("spots.TXT", "A1 2 3") == Arrival::spots);
  CHECK(session::arrival_of("", "A1 2 3") == Arrival::unknown);
  CHECK(session::arrival_of("", "v_mm/u_mm;-1,5;1,5\n-2;0;0\n") == Arrival::sag_map);
  CHECK(session::arrival_of("map.csv", "# bench 3\r\n# noon\nv/u,0,1\n") == Arrival::sag_map);
  CHECK(session::arrival_of("spots.csv", "# v/u\nfacet,right_mm,up_mm\n") == Arrival::spots);
}

TEST_CASE("a map of heights becomes the selected facet's form, as one step") {
  Session session = sitting::at_nominal();
  const std::string map =
      "v_mm/u_mm,-150,0,150\n-150,0.02,0,0.02\n0,0.01,0,0.01\n150,0.02,0,0.02\n";
  session::apply(session, {act::OpenBytes{"bench.csv", map}});
  if (session.document.dish.facet_types.size() > 1) {
    CHECK(sitting::says(session, "Whose map"));
    CHECK(!session.document.dish.facets[3].sag_map);
  }
  const std::string before = sitting::bytes_of(session);
  session::apply(session, {act::Select{session.document.dish.facets[3].id}});
  session::apply(session, {act::OpenBytes{"bench.csv", map}});
  REQUIRE(session.document.dish.facets[3].sag_map);
  CHECK(session.document.dish.facets[3].sag_map->sag_m[0] == 2e-5);
  CHECK(!session.document.dish.facets[4].sag_map);
  session::apply(session, {act::Undo{}});
  CHECK(sitting::bytes_of(session) == before);
}

TEST_CASE("readings of inclinometer and gauge join the round shown, as one step each") {
  Session session = sitting::at_nominal();
  const std::string facet = sitting::id_of(session, 2);
  session::apply(session, {act::OpenBytes{"leans.csv", "facet,edge_deg,reading_deg\n" + facet +
                                                           ",0,1\n" + facet + ",90,2\n"}});
  REQUIRE(session::shown_round(session) != nullptr);
  CHECK(session::shown_round(session)->leans.size() == 2);
  session::apply(
      session,
      {act::OpenBytes{"heights.csv", "facet,x_mm,y_mm,height_mm\n" + facet + ",0,80,30\n" + facet +
                                         ",-69,-40,30.25\n" + facet + ",69,-40,30\n"}});
  CHECK(session.document.dish.rounds.size() == 1);
  CHECK(session::shown_round(session)->heights.size() == 3);
  session::apply(session, {act::Undo{}});
  CHECK(session::shown_round(session)->heights.empty());
  session::apply(session, {act::Undo{}});
  CHECK(session.document.dish.rounds.empty());
}

TEST_CASE("sheets to print are whole pages") {
  Session session = sitting::on(support::larch_refuge());
  session::apply(session, {act::ExportSheet{}, act::ExportMarks{}, act::ExportBoard{}});
  REQUIRE(session.outbox.saves.size() == 3);
  for (const auto& file : session.outbox.saves) {
    CHECK(file.mime == "text/html");
    CHECK(file.bytes.find("</html>") != std::string::npos);
  }
}

TEST_CASE("a table of spots becomes a new round, shown, as one step") {
  Session session = sitting::at_nominal();
  const std::string table = "facet,right_mm,up_mm\n" + sitting::id_of(session, 0) + ",3,4\n" +
                            sitting::id_of(session, 1) + ",-2.5,0\n";
  session::apply(session, {act::OpenBytes{"monday.csv", table}});
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  REQUIRE(round->spots.size() == 2);
  CHECK(round->spots[1].seen_m.x == -0.0025);
  CHECK(session.document.undo_steps.size() == 1);
  CHECK(session.plan.revision == session.document.revision);
  session::apply(session, {act::OpenBytes{"tuesday.csv", table}});
  CHECK(session.round == 1);
  session::apply(session, {act::Undo{}, act::Undo{}});
  CHECK(session.document.dish.rounds.empty());
  CHECK(session.round == 0);
}

TEST_CASE("rows pasted from a spreadsheet need no header and no name") {
  Session session = sitting::at_nominal();
  const std::string rows =
      sitting::id_of(session, 0) + "\t3,5\t4\n" + sitting::id_of(session, 1) + "\t1\t2\n";
  session::apply(session, {act::OpenBytes{"", rows}});
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  CHECK(round->spots[0].seen_m.x == 0.0035);
}

TEST_CASE("spots go on with the light and the board of the round that is shown") {
  Session session = sitting::at_nominal();
  const dish::Round lamp{.name = "Lamp",
                         .source = dish::LampSource{{0.0, 0.0, 30.0}},
                         .board = dish::Board{.centre_m = {0.0, 0.0, 0.2}}};
  session::apply(session, {act::Change{dish::edit::AddRound{lamp}},
                           act::OpenBytes{"next.csv", sitting::id_of(session, 0) + ",3,4\n"}});
  const dish::Round* round = session::shown_round(session);
  REQUIRE(round != nullptr);
  CHECK(round->name != "Lamp");
  CHECK(std::holds_alternative<dish::LampSource>(round->source));
  REQUIRE(round->board.has_value());
  CHECK(round->board->centre_m.z == 0.2);
}

TEST_CASE("spots of unknown facets, doubled rows and words for numbers are named") {
  const Session session = sitting::at_nominal();
  const std::string a = sitting::id_of(session, 0);
  const std::string header = "facet,right_mm,up_mm\n";
  refuses("spots.csv", header + "QQ77,1,2\n", "QQ77");
  refuses("spots.csv", header + a + ",1,2\n" + a + ",3,4\n", a);
  refuses("spots.csv", header + a + ",left,2\n", "left");
  refuses("spots.csv", "facet,sideways\n" + a + ",1\n", "right_mm");
}

TEST_CASE("every demo opens lit and can be undone; an unknown one is refused") {
  Session session = sitting::at_nominal();
  for (const std::string& name : session::demo_names()) {
    INFO(name);
    session::apply(session, {act::OpenDemo{name}});
    CHECK(session.document.dish.name == name);
    REQUIRE(session::is_fresh(session, session.live));
    CHECK(session.live.value->figures.power_receiver_W > 0.0);
    CHECK(session::is_fresh(session, session.presets));
  }
  CHECK(session.document.undo_steps.size() == session::demo_names().size());
  session::apply(session, {act::OpenDemo{"No Such Place"}});
  CHECK(sitting::says(session, "No Such Place"));
  CHECK(session.document.undo_steps.size() == session::demo_names().size());
}

TEST_CASE("a first visit opens on Larch Refuge, lit, with corrections to read") {
  const Session session = session::start_session();
  CHECK(session.document.dish.name == "Larch Refuge");
  CHECK(session::demo_names().front() == "Larch Refuge");
  CHECK(session::demo_names().size() == 3);
  CHECK_FALSE(session::is_unsaved(session.document));
  CHECK(session::is_fresh(session, session.live));
  CHECK(session::is_fresh(session, session.plan));
}
