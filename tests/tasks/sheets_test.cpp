// Marks on a board, the printed sheet of turns and patterns of aims.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <map>
#include <set>

#include "asking.h"
#include "base/units.h"
#include "files/dish_read.h"
#include "support/says.h"
#include "tasks/aims_task.h"
#include "tasks/html.h"
#include "tasks/marks_task.h"
#include "tasks/sheet_task.h"

namespace {

using tasks::Json;

Json parsed_reply(const Json& request) { return Json::parse(asking::reply_text(request)); }

std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

/// Spots of the default dish, every third facet well off.
tasks::AlignRequest observed_round(const dish::Dish& dish) {
  tasks::AlignRequest request;
  request.round.name = "evening";
  for (std::size_t i = 0; i < dish.facets.size(); ++i) {
    const double far = i % 3 == 0 ? 0.03 : 0.001;
    request.round.spots.push_back({dish.facets[i].id, {far, -0.7 * far}, {}});
  }
  return request;
}

std::string sheet_of_dish(const dish::Dish& dish, const tasks::SheetRequest& request = {}) {
  const auto reply = tasks::run(dish, observed_round(dish));
  if (!reply) FAIL(base::to_text(reply.problems()));
  return tasks::sheet_html(dish, reply.value(), request);
}

/// Numbers behind each occurrence of `key="` in a text.
std::vector<double> attributes(const std::string& text, const std::string& key) {
  std::vector<double> numbers;
  const std::string start = key + "=\"";
  for (std::size_t at = text.find(start); at != std::string::npos; at = text.find(start, at + 1)) {
    numbers.push_back(std::strtod(text.c_str() + at + start.size(), nullptr));
  }
  return numbers;
}

}  // namespace

TEST_CASE("the sheet has a card for each facet with the numbers of the reply") {
  const dish::Dish dish = dish::default_dish();
  const auto reply = tasks::run(dish, observed_round(dish));
  REQUIRE(reply.ok());
  const std::string html = tasks::sheet_html(dish, reply.value(), {});
  CHECK(count_of(html, "<section class=\"card") == dish.facets.size());
  CHECK(count_of(html, "<svg") == reply.value().plan.to_turn);
  CHECK(reply.value().plan.to_turn > 3);
  CHECK(support::says(html, tasks::escaped(reply.value().plan.verdict)));
  for (const align::Correction& facet : reply.value().plan.facets) {
    CHECK(html.find(tasks::escaped(facet.verdict_text)) != std::string::npos);
    if (facet.verdict != align::Verdict::turn) continue;
    for (const align::ScrewCorrection& screw : facet.screws) {
      CHECK(html.find("screw " + screw.label + "</b>: " + screw.direction) != std::string::npos);
    }
  }
  for (const char* words : {"done", "again", "skip", "Notes", "Cover the facets", "Local rules"}) {
    CHECK(support::says(html, words));
  }
  // One file: nothing is fetched, nothing runs.
  for (const char* part : {"http", "src=", "url(", "<script", "<link", "@import"}) {
    CHECK(html.find(part) == std::string::npos);
  }
  CHECK(tasks::sheet_html(dish, reply.value(), {}) == html);
}

TEST_CASE("names from the file cannot break out of the sheet") {
  dish::Dish dish = dish::default_dish();
  dish.name = "<b>&\"'</b>";
  dish.facets[0].id = {"<script>alert(1)</script>"};
  dish.mounts[0].adjusters[0].label = "a\"><img onerror=x>";
  const std::string html = sheet_of_dish(dish);
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("<img") == std::string::npos);
  CHECK(html.find("<b>&\"") == std::string::npos);
  CHECK(support::says(html, "&lt;script&gt;alert(1)&lt;/script&gt;"));
  CHECK(support::says(html, "&lt;b&gt;&amp;&quot;&#39;&lt;/b&gt;"));
  CHECK(tasks::escaped("a\x01<\n") == "a&lt;\n");
}

TEST_CASE("the drawing is mirrored and the words turn over with the side") {
  const dish::Dish dish = dish::default_dish();
  const std::string back = sheet_of_dish(dish, {.side = dish::Side::back});
  const std::string front = sheet_of_dish(dish, {.side = dish::Side::front});
  CHECK(count_of(back, "seen from the front") == 0);
  CHECK(count_of(front, "seen from the front") > 3);
  CHECK(support::says(front, "its head is at the back"));
  const auto first_card = [](const std::string& html, const std::string& id) {
    const std::size_t at = html.find("</span> " + id + "</h2>");
    return html.substr(at, html.find("</section>", at) - at);
  };
  const std::string id = dish.facets[0].id.text;
  const auto one = attributes(first_card(back, id), "cx");
  const auto other = attributes(first_card(front, id), "cx");
  REQUIRE(one.size() == 3);
  REQUIRE(other.size() == 3);
  for (std::size_t k = 0; k < 3; ++k) CHECK(one[k] == doctest::Approx(-other[k]));
  CHECK(attributes(first_card(back, id), "cy") == attributes(first_card(front, id), "cy"));
}

TEST_CASE("sheet: the task's reply is the same page") {
  const dish::Dish dish = dish::default_dish();
  Json request = asking::request_for("sheet");
  request["spots_csv"] = "A1,30,-21\nB2,1,0\n";
  request["order"] = "rings";
  const Json reply = parsed_reply(request);
  CHECK(support::says(reply["html"].get<std::string>(), "</span> A1</h2>"));
  request["order"] = "spiral";
  CHECK(support::says(asking::problem_of(request), "rows, rings"));
}

// Source: derived by exact reflection: look-back from 30 m, mark of a facet at r = 750 mm of the
// reference dish 55.12 mm from the board's centre. The law: marks taken as spots ask for no turns.
TEST_CASE("marks taken as spots ask for no turn, with any light and board") {
  struct Setting {
    const char* request;
    double least_rim_mm;
  };
  for (const Setting& setting :
       {Setting{R"({"source": "camera", "camera_mm": [0, 0, 30000]})", 50.0},
        Setting{R"({"source": "lamp", "lamp_mm": [500, -200, 25000],
                    "board": {"centre_mm": [10, 20, 1700], "lit_normal": [0.1, -0.2, -1]}})",
                0.0},
        Setting{R"({"source": "laser-at", "laser_mm": [0, 300, 6000], "spot": "centre"})", 100.0},
        Setting{R"({"source": "sun", "sun_x_mrad": 2,
                    "board": {"centre_mm": [0, 0, 1500]}})",
                100.0}}) {
    CAPTURE(setting.request);
    Json request = asking::request_for("marks");
    request.merge_patch(Json::parse(setting.request));
    const Json marks = parsed_reply(request);
    REQUIRE(marks["marks"].size() == 36);
    std::string csv = "facet,right_mm,up_mm\n";
    double rim = 0.0;
    for (const Json& mark : marks["marks"]) {
      const double right = mark["right_mm"].get<double>();
      const double up = mark["up_mm"].get<double>();
      rim = std::max(rim, std::hypot(right, up));
      csv += mark["facet"].get<std::string>() + "," + mark["right_mm"].dump() + "," +
             mark["up_mm"].dump() + "\n";
      CHECK(mark["ring_mm"].get<double>() > 4.0);
    }
    CHECK(rim > setting.least_rim_mm);
    request["task"] = "align";
    request["spots_csv"] = csv;
    const Json plan = parsed_reply(request);
    REQUIRE(plan["facets"].size() == 36);
    CHECK(plan["facets_to_turn"] == 0);
    CHECK(plan["rms_tilt_mrad"].get<double>() < 1e-6);
  }
}

TEST_CASE("printed marks are at true scale") {
  const dish::Dish dish = dish::default_dish();
  tasks::MarksRequest request;
  request.round.source = dish::CameraSource{{0.0, 0.0, 30.0}};
  const auto reply = tasks::run(dish, request);
  REQUIRE(reply.ok());
  const auto html = tasks::marks_html(dish, reply.value());
  if (!html) FAIL(base::to_text(html.problems()));
  CHECK(count_of(html.value(), "<svg") == 1);
  CHECK(support::says(html.value(), "size:A4"));
  CHECK(support::says(html.value(), "width=\"190mm\""));
  CHECK(support::says(html.value(), "viewBox=\"0 0 190 "));
  CHECK(support::says(html.value(), "h100M0"));
  const auto cx = attributes(html.value(), "cx");
  const auto cy = attributes(html.value(), "cy");
  REQUIRE(cx.size() == 36);
  for (std::size_t i = 1; i < 36; ++i) {
    const base::Vec2 apart =
        (reply.value().marks[i].board_m - reply.value().marks[0].board_m) * 1e3;
    CHECK(std::abs(cx[i] - cx[0] - apart.x) < 2e-3);
    CHECK(std::abs(cy[i] - cy[0] + apart.y) < 2e-3);
  }
}

TEST_CASE("marks that do not fit on one page go on over several, and never without end") {
  const dish::Dish dish = dish::default_dish();
  tasks::MarksRequest request{.paper = tasks::Paper::letter};
  request.round.board = dish::Board{.centre_m = {0.0, 0.0, 1.0}};
  const auto reply = tasks::run(dish, request);
  REQUIRE(reply.ok());
  const auto html = tasks::marks_html(dish, reply.value());
  REQUIRE(html.ok());
  CHECK(count_of(html.value(), "<svg") > 8);
  CHECK(count_of(html.value(), "registration") - 0 >= 4 * count_of(html.value(), "<svg"));
  CHECK(support::says(html.value(), "size:letter"));
  // Every facet is on some page, and its neighbours' crosses are 10 mm inside the drawing's edge.
  for (const dish::Facet& facet : dish.facets) {
    CHECK(html.value().find(">" + facet.id.text + "</text>") != std::string::npos);
  }
  request.round.board = dish::Board{.centre_m = {0.0, 0.0, 30.0}};
  const auto far = tasks::run(dish, request);
  REQUIRE(far.ok());
  const auto refused = tasks::marks_html(dish, far.value());
  REQUIRE(!refused.ok());
  CHECK(support::says(base::to_text(refused.problems()), "pages"));
}

TEST_CASE("all marks in one place are one mark with all names") {
  tasks::MarksRequest request;
  request.round.source = dish::LaserSource{};
  const auto reply = tasks::run(dish::default_dish(), request);
  REQUIRE(reply.ok());
  const auto html = tasks::marks_html(dish::default_dish(), reply.value());
  REQUIRE(html.ok());
  CHECK(support::says(html.value(), "all 36 facets"));
  CHECK(count_of(html.value(), "class=\"ring\"") == 1);
}

// Source: derived, see dish/aims.h: a disc of 1.5 sigma lowers the peak to 0.600.
TEST_CASE("aims: the reply holds the dish and what the pattern does") {
  Json request = asking::request_for("aims");
  request.merge_patch(Json::parse(R"({"pattern": "disc", "radius_mm": 30, "spot_sigma_mm": 20})"));
  const Json reply = parsed_reply(request);
  CHECK(std::abs(reply["peak_ratio"].get<double>() - 0.600) < 0.0005);
  CHECK(reply["most_radius_mm"].is_number());
  const auto read = files::read_dish(reply["dish"].get<std::string>(), "reply");
  REQUIRE(read.ok());
  std::set<std::string> aims;
  for (const Json& aim : reply["aims"]) aims.insert(aim["aim_mm"].dump());
  CHECK(aims.size() == 36);
  const auto refused = [&](const char* change) {
    Json other = asking::request_for("aims");
    other.merge_patch(Json::parse(change));
    return asking::problem_of(other);
  };
  CHECK(support::says(refused("{}"), "single, disc or scaled"));
  CHECK(support::says(refused(R"({"pattern": "disc"})"), "radius_mm"));
  CHECK(support::says(refused(R"({"pattern": "single", "radius_mm": 3})"), "aim_mm"));
  CHECK(support::says(refused(R"({"pattern": "scaled", "radius_mm": -3})"), "from 0 to 10000"));
}

TEST_CASE("align: leans and heights as rows and as tables are the same") {
  Json rows = asking::request_for("align");
  rows.merge_patch(Json::parse(R"({"elevation_deg": 70,
    "leans": [{"facet": "A1", "edge_deg": 0, "reading_deg": 8, "sigma_deg": 0.05},
              {"facet": "A1", "edge_deg": 90, "reading_deg": 20, "reversed_deg": -20.2}],
    "heights": [{"facet": "B2", "x_mm": 0, "y_mm": 80, "height_mm": 30},
                {"facet": "B2", "x_mm": -69, "y_mm": -40, "height_mm": 30.25},
                {"facet": "B2", "x_mm": 69, "y_mm": -40, "height_mm": 30.125}]})"));
  Json tables = asking::request_for("align");
  tables["elevation_deg"] = 70;
  tables["leans_csv"] =
      "facet,edge_deg,reading_deg,reversed_deg,sigma_deg\nA1,0,8,,0.05\nA1,90,20,-20.2,\n";
  tables["heights_csv"] = "B2,0,80,30\nB2,-69,-40,30.25\nB2,69,-40,30.125\n";
  rows["skip_unusable"] = tables["skip_unusable"] = true;
  const Json reply = parsed_reply(rows);
  CHECK(reply == parsed_reply(tables));
  std::map<std::string, std::string> seen_with;
  for (const Json& facet : reply["facets"]) seen_with[facet["id"]] = facet["seen_with"];
  CHECK(seen_with["B2"] == "height gauge");
  rows.erase("elevation_deg");
  CHECK(support::says(asking::problem_of(rows), "elevation"));
}
