// The program in one process: what it prints is what the task answers, and what goes where.
#include <doctest/doctest.h>

#include <cstdio>
#include <filesystem>

#include "cli/console.h"
#include "cli/program.h"
#include "support/paths.h"
#include "tasks/json.h"
#include "tasks/task.h"

namespace {

struct Ran {
  int code = 0;
  std::string out;
  std::string err;
};

std::string take(std::FILE* file) {
  std::string text;
  std::rewind(file);
  for (int c = std::fgetc(file); c != EOF; c = std::fgetc(file)) text += static_cast<char>(c);
  std::fclose(file);
  return text;
}

Ran run(const std::vector<std::string>& words, const std::string& input = "") {
  cli::Console console{.in = std::tmpfile(), .out = std::tmpfile(), .err = std::tmpfile()};
  REQUIRE((console.in != nullptr && console.out != nullptr && console.err != nullptr));
  std::fwrite(input.data(), 1, input.size(), console.in);
  std::rewind(console.in);
  Ran ran;
  ran.code = cli::run_program(words, console);
  std::fclose(console.in);
  ran.out = take(console.out);
  ran.err = take(console.err);
  return ran;
}

/// A dish of 18 facets, and a place for files of this test.
std::string small_dish() {
  return run({"new", "--rings", "2", "--focal-length-m", "1.5", "--name", "small"}).out;
}

std::string place_for(const std::string& name) {
  return (std::filesystem::temp_directory_path() / ("facetwright-test-" + name)).string();
}

std::string task_reply(tasks::Json request, const std::string& dish) {
  request["dish"] = dish;
  const auto reply = tasks::run(tasks::to_dense_text(request));
  if (!reply) FAIL(base::to_text(reply.problems()));
  return reply.value();
}

}  // namespace

TEST_CASE("--json prints what the task replies to the same request") {
  const std::string dish = small_dish();
  const std::string spots = "facet,right_mm,up_mm\nA1,3,4\nA2,-5,1\nB1,2,2\nB5,7,-7\n";
  const std::string spots_path = place_for("spots.csv");
  REQUIRE(cli::write_whole(spots_path, spots).ok());
  CHECK(
      run({"trace", "-", "--json", "--rays", "20000", "--seed", "3", "--sun-y-mrad", "-1.5"}, dish)
          .out ==
      task_reply({{"task", "trace"}, {"rays", 20000}, {"seed", 3}, {"sun_y_mrad", -1.5}}, dish));
  CHECK(run({"preset", "-", "--json"}, dish).out == task_reply({{"task", "preset"}}, dish));
  CHECK(run({"align", "-", "--json", "--spots", spots_path, "--source", "lamp", "--lamp-mm",
             "100,0,25000", "--keep", "tighten-only"},
            dish)
            .out == task_reply({{"task", "align"},
                                {"spots_csv", spots},
                                {"source", "lamp"},
                                {"lamp_mm", {100, 0, 25000}},
                                {"keep", "tighten-only"}},
                               dish));
  CHECK(run({"new", "--layout", "lattice", "--columns", "3"}).out ==
        tasks::run(R"({"task": "new", "layout": "lattice", "columns": 3})").value());
  std::filesystem::remove(spots_path);
}

TEST_CASE("a file is replaced whole, or stays as it was") {
  const std::string path = place_for("kept.json");
  REQUIRE(cli::write_whole(path, "older").ok());
  CHECK(run({"preset", "-", "--json", "--out", path}, "{").code == cli::k_bad_input);
  CHECK(support::read_whole_file(path) == "older");
  const Ran ran = run({"preset", "-", "--json", "--out", path}, small_dish());
  CHECK(ran.code == cli::k_done);
  CHECK(ran.out.empty());
  CHECK(support::read_whole_file(path) == run({"preset", "-", "--json"}, small_dish()).out);
  std::filesystem::remove(path);
  CHECK_FALSE(cli::write_whole(path + "/below/nothing", "x").ok());
}

TEST_CASE("messages go to standard error and results to standard output") {
  const Ran refused = run({"trace", "-"}, "{\"format\": 1}");
  CHECK(refused.code == cli::k_bad_input);
  CHECK(refused.out.empty());
  CHECK(refused.err.rfind("facetwright: ", 0) == 0);
  const Ran help = run({"--help"});
  CHECK(help.code == cli::k_done);
  CHECK(help.err.empty());
  CHECK(run({}).code == cli::k_bad_input);
  CHECK(run({"trace"}).err.find("a file is missing") != std::string::npos);
  CHECK(run({"--version"}).out.rfind("facetwright ", 0) == 0);
}
