// Replies as JSON: the keys that scripts rely on, and the same answer through every door.
#include <doctest/doctest.h>

#include <cmath>

#include "dish/defaults.h"
#include "files/dish_write.h"
#include "tasks/align_task.h"
#include "tasks/asking.h"
#include "tasks/check_task.h"
#include "tasks/json.h"
#include "tasks/new_task.h"
#include "tasks/preset_task.h"
#include "tasks/task.h"
#include "tasks/trace_task.h"

namespace {

using tasks::Json;

Json reply_to(const Json& request) { return Json::parse(asking::reply_text(request)); }

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& entry : object.items()) keys.push_back(entry.key());
  return keys;
}

/// A request for the default dish, which is given as its file's text.
tasks::AlignRequest two_spots() {
  tasks::AlignRequest request;
  const dish::Dish dish = dish::default_dish();
  request.round.spots = {{dish.facets[0].id, {0.010, -0.004}, 0.001},
                         {dish.facets[7].id, {-0.002, 0.003}, {}}};
  request.plan.spot_is_centroid = true;
  return request;
}

}  // namespace

TEST_CASE("trace: keys in a fixed order, watts that add up, the same as the direct call") {
  Json request = asking::request_for("trace");
  request["rays"] = 30'000;
  request["seed"] = 5;
  request["sun_x_mrad"] = 2;
  const Json reply = reply_to(request);
  CHECK(keys_of(reply) == std::vector<std::string>{"rays",
                                                   "seed",
                                                   "sun",
                                                   "dni_W_m2",
                                                   "aperture_area_m2",
                                                   "mirror_area_m2",
                                                   "power_incident_W",
                                                   "power_reflected_W",
                                                   "power_plane_W",
                                                   "power_receiver_W",
                                                   "standard_error_W",
                                                   "intercept_factor",
                                                   "optical_efficiency",
                                                   "centroid_mm",
                                                   "rms_mm",
                                                   "peak_W_m2",
                                                   "peak_concentration",
                                                   "mean_concentration",
                                                   "radius_mm",
                                                   "losses_W",
                                                   "receiver_W",
                                                   "facets"});
  double accounted = reply["power_receiver_W"].get<double>();
  for (const auto& loss : reply["losses_W"].items()) accounted += loss.value().get<double>();
  CHECK(accounted == doctest::Approx(reply["power_incident_W"].get<double>()).epsilon(1e-12));

  CHECK(!reply.contains("further_hits"));
  request["further_hits"] = true;
  const Json further = reply_to(request)["further_hits"];
  CHECK(keys_of(further) == std::vector<std::string>{"stopped_W", "mirrored_W", "receiver_W",
                                                     "standard_error_W", "most_hits"});
  CHECK(further["mirrored_W"].get<double>() <= further["stopped_W"].get<double>());
  CHECK(further["receiver_W"].get<double>() <= further["mirrored_W"].get<double>());
  request.erase("further_hits");

  tasks::TraceRequest direct;
  direct.settings.rays = 30'000;
  direct.settings.seed = 5;
  direct.settings.tracking_error_rad = {0.002, 0.0};
  direct.settings.workers = 2;
  const auto same = tasks::run(dish::default_dish(), direct);
  REQUIRE(same.ok());
  CHECK(tasks::json_text(same.value()) == tasks::run(tasks::to_dense_text(request)).value());
}

TEST_CASE("trace: the map has a header with units and one line a cell") {
  tasks::TraceRequest request;
  request.settings.rays = 10'000;
  request.settings.map_cells = 8;
  const auto reply = tasks::run(dish::default_dish(), request);
  REQUIRE(reply.ok());
  const std::string csv = tasks::map_csv_text(reply.value().result.map);
  CHECK(csv.rfind("right_mm,up_mm,flux_W_m2\n-140,-140,", 0) == 0);
  CHECK(std::count(csv.begin(), csv.end(), '\n') == 65);
}

TEST_CASE("preset: every facet's normal and three screws, the same as the direct call") {
  const Json reply = reply_to(asking::request_for("preset"));
  REQUIRE(reply["facets"].size() == 36);
  const Json& facet = reply["facets"][0];
  CHECK(keys_of(facet) == std::vector<std::string>{"id", "normal", "centre_mm", "screws"});
  CHECK(keys_of(facet["screws"][0]) ==
        std::vector<std::string>{"label", "height_mm", "caliper_mm", "displacement_mm"});
  const auto direct = tasks::run(dish::default_dish(), tasks::PresetRequest{});
  REQUIRE(direct.ok());
  CHECK(Json::parse(tasks::json_text(direct.value())) == reply);
}

TEST_CASE("align: the keys that scripts rely on") {
  const auto reply = tasks::run(dish::default_dish(), two_spots());
  REQUIRE(reply.ok());
  const Json json = Json::parse(tasks::json_text(reply.value()));
  for (const char* key : {"boresight_mrad", "boresight_sigma_mrad", "focus_mm", "focus_sigma_mm",
                          "clocking_deg", "clocking_sigma_deg", "note"}) {
    CHECK_MESSAGE(json["common"].contains(key), key);
  }
  CHECK(json["common"]["focus_mm"].is_null());  // two facets do not tell
  REQUIRE(json["facets"].size() == 2);
  CHECK(json["unmeasured"].size() == 34);
  for (const char* key : {"id", "tilt_error_mrad", "screws", "residual_mrad", "verdict"}) {
    CHECK_MESSAGE(json["facets"][0].contains(key), key);
  }
  for (const char* key : {"label", "displacement_mm", "turns", "sigma_turns", "direction",
                          "seen_from", "travel_left_mm"}) {
    CHECK_MESSAGE(json["facets"][0]["screws"][0].contains(key), key);
  }
}

TEST_CASE("align: spots as rows, as CSV or as a round of the dish give the same reply") {
  dish::Dish dish = dish::default_dish();
  dish::Round round = two_spots().round;
  round.name = "Monday";
  dish.rounds.push_back(round);
  Json rows = asking::request_for("align");
  rows["spots"] = Json::parse(R"([{"facet": "A1", "right_mm": 10, "up_mm": -4, "sigma_mm": 1},
                                  {"facet": "B2", "right_mm": -2, "up_mm": 3}])");
  Json csv = asking::request_for("align");
  csv["spots_csv"] = "facet,right_mm,up_mm,sigma_mm\nA1,10,-4,1\nB2,-2,3,\n";
  Json logged = asking::request_for("align");
  logged["dish"] = files::write_dish(dish);
  logged["round"] = "last";
  const Json reply = reply_to(rows);
  CHECK(reply == reply_to(csv));
  CHECK(reply == reply_to(logged));
  const auto direct = tasks::run(dish::default_dish(), two_spots());
  REQUIRE(direct.ok());
  CHECK(reply == Json::parse(tasks::json_text(direct.value())));
}

TEST_CASE("align: bad settings each have their own message") {
  const auto refused = [](const char* settings) {
    Json request = asking::request_for("align");
    request["spots_csv"] = "A1,1,1\n";
    request.merge_patch(Json::parse(settings));
    return asking::problem_of(request);
  };
  CHECK(refused("{}") == "none");
  CHECK(refused(R"({"spots_csv": "Z9,1,1"})").find("Z9") != std::string::npos);
  CHECK(refused(R"({"spots_csv": "A1,1,1\nA1,2,2"})").find("A1") != std::string::npos);
  CHECK(refused(R"({"spots_csv": "A1,40000,1"})").find("A1") != std::string::npos);
  CHECK(refused(R"({"spots_csv": null, "round": "last"})").find("no rounds") != std::string::npos);
  CHECK(refused(R"({"spots": [], "round": "x"})").find("one of") != std::string::npos);
  CHECK(refused(R"({"source": "moon"})").find("sun, laser, lamp") != std::string::npos);
  CHECK(refused(R"({"source": "lamp"})").find("lamp_mm") != std::string::npos);
  CHECK(refused(R"({"keep": "9"})").find("screw") != std::string::npos);
  CHECK(refused(R"({"leave_out": ["coma"]})").find("boresight") != std::string::npos);
  CHECK(refused(R"({"leave_out": ["boresight"]})") != "none");  // one spot cannot tell it
  CHECK(refused(R"({"board": {"centre_mm": [0, 0, 2000], "up": [0, 0, 1]}})").find("up") !=
        std::string::npos);
  CHECK(refused(R"({"spotty": 1})").find("no such setting") != std::string::npos);
}

TEST_CASE("check: errors and doubts, the same as the direct call") {
  const Json reply = reply_to(asking::request_for("check"));
  CHECK(keys_of(reply["files"][0]) ==
        std::vector<std::string>{"file", "ok", "errors", "doubts", "notes"});
  CHECK(reply["files"][0]["ok"] == true);
  dish::Dish aside = dish::default_dish();
  for (dish::Facet& facet : aside.facets) facet.aim_m = {0.3, 0.0};
  aside.facets[3].displacement_m = {0.02, 0.0, 0.0};
  const auto checked = tasks::run(aside, tasks::CheckRequest{});
  REQUIRE(checked.ok());
  CHECK(checked.value().ok());
  const std::string report = tasks::report_text({checked.value()});
  CHECK(report.find("beside the receiver") != std::string::npos);
  CHECK(report.find("travel") != std::string::npos);
}

TEST_CASE("new: the default wishes give the default dish's facets") {
  const auto made = tasks::make_dish({});
  REQUIRE(made.ok());
  const dish::Dish usual = dish::default_dish();
  REQUIRE(made.value().facets.size() == usual.facets.size());
  CHECK(files::write_dish(made.value()) == files::write_dish(usual));
  CHECK(tasks::run(R"({"task": "new"})").value() == files::write_dish(usual));
}

TEST_CASE("new: wishes out of place or range each have a message") {
  const auto refused = [](const char* wishes) {
    Json request = Json::parse(wishes);
    request["task"] = "new";
    return asking::problem_of(request);
  };
  CHECK(refused(R"({"columns": 4})").find("lattice") != std::string::npos);
  CHECK(refused(R"({"rings": 3.5})").find("whole number") != std::string::npos);
  CHECK(refused(R"({"focal_length_m": 0})").find("0.05") != std::string::npos);
  CHECK(refused(R"({"facet_mm": 200, "pitch_mm": 210, "gap_mm": 5})").find("two of them") !=
        std::string::npos);
  CHECK(refused(R"({"pitch_mm": 20})").find("room for a facet") != std::string::npos);
  CHECK(refused(R"({"layout": "petals", "radii_mm": [300]})").find("radii_mm") !=
        std::string::npos);
  CHECK(refused(R"({"layout": "petals", "petals": [8, 9]})").find("petals") != std::string::npos);
  CHECK(refused(R"({"secondary_z_mm": 1500})").find("secondary") != std::string::npos);
  CHECK(refused(R"({"rings": 57, "leave_out": [0], "pitch_mm": 20, "facet_mm": 15})") == "none");
}

TEST_CASE("new: every kind of secondary sends light to the receiver") {
  for (const char* kind : {"flat", "hyperboloid", "ellipsoid", "sphere", "paraboloid"}) {
    CAPTURE(kind);
    Json request{{"task", "new"}, {"secondary", kind}};
    const auto made = tasks::run(tasks::to_dense_text(request));
    REQUIRE_MESSAGE(made.ok(), (made.ok() ? "" : base::to_text(made.problems())));
    const Json light = reply_to(Json{{"task", "trace"}, {"dish", made.value()}, {"rays", 20'000}});
    CHECK(light["intercept_factor"].get<double>() > 0.6);
    CHECK(light["power_receiver_W"].get<double>() > 300.0);
  }
}

TEST_CASE("a dish may stand in a request as an object, to the last bit of its numbers") {
  const std::string dish = files::write_dish(dish::default_dish());
  const std::string as_object = R"({"dish": )" + dish + R"(, "task": "preset"})";
  CHECK(tasks::run(as_object).value() ==
        tasks::run(tasks::to_dense_text(asking::request_for("preset"))).value());
}

TEST_CASE("requests that are none are refused with a place") {
  CHECK(tasks::run("").problems()[0].place == "request, line 1, column 1");
  CHECK(tasks::run("{}").problems()[0].place == "request.task");
  CHECK(tasks::run(R"({"task": "fly"})").problems()[0].expected.find("trace") != std::string::npos);
  CHECK(tasks::run(R"({"task": "trace"})").problems()[0].place == "request.dish");
  CHECK(tasks::run(R"({"task": "trace", "dish": 3})").problems()[0].place.find("request.dish") ==
        0);
  const Json told = Json::parse(tasks::run_to_text("{}"));
  CHECK(keys_of(told["problems"][0]) == std::vector<std::string>{"place", "value", "expected"});
}
