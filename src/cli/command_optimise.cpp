// facetwright optimise: better aims, or better sizes.
#include <fmt/format.h>

#include <optional>

#include "base/units.h"
#include "cli/commands.h"
#include "files/dish_write.h"
#include "tasks/optimise_task.h"

namespace cli {
namespace {

std::optional<optics::Between> between_of(const Given& given, Collected& collected,
                                          const std::string& name, double to_si) {
  const auto ends = collected.take(numbers_of(given, name, 2, {1e-9, 1e9}));
  if (!ends) return std::nullopt;
  return optics::Between{(*ends)[0] * to_si, (*ends)[1] * to_si};
}

optics::AimSettings aims_of(const Given& given, Collected& collected) {
  optics::AimSettings aims;
  if (const auto limit = collected.take(number_of(given, "--limit-w-m2", {1e-3, 1e12}))) {
    aims.limit_W_m2 = *limit;
  }
  if (const auto loss = collected.take(number_of(given, "--most-loss", {0.0, 0.5}))) {
    aims.most_loss = *loss;
  }
  aims.tracking_error_rad = sun_place_of(given, collected);
  return aims;
}

optics::SizeSettings sizes_of(const Given& given, Collected& collected) {
  optics::SizeSettings sizes;
  sizes.mean_concentration =
      collected.take(number_of(given, "--mean-concentration", {1e-6, 1e9})).value_or(0.0);
  sizes.focal_length_m = between_of(given, collected, "--focal-length-m", 1.0);
  sizes.magnification = between_of(given, collected, "--magnification", 1.0);
  sizes.receiver_m = between_of(given, collected, "--receiver-mm", 1e-3);
  sizes.tracking_error_rad = sun_place_of(given, collected);
  return sizes;
}

/// Options of the other search.
void refuse_misplaced(const Given& given, bool is_size, Collected& collected) {
  const auto refuse = [&](const char* name) {
    if (given.has(name)) {
      collected.add({name, fmt::format("given for {}", is_size ? "size" : "aims"),
                     fmt::format("only with --what {}", is_size ? "aims" : "size")});
    }
  };
  if (is_size) {
    for (const char* name : {"--limit-w-m2", "--most-loss"}) refuse(name);
    if (!given.has("--mean-concentration")) {
      collected.add({"--mean-concentration", "not given", "the concentration that is wanted"});
    }
  } else {
    for (const char* name :
         {"--mean-concentration", "--focal-length-m", "--magnification", "--receiver-mm"}) {
      refuse(name);
    }
  }
}

}  // namespace

std::vector<Option> optimise_options() {
  return {
      {"--what", "WORD",
       "aims: move the facets' aims to flatten the flux; size: focal length, secondary and "
       "receiver for most watts. Default aims."},
      {"--limit-w-m2", "W/M2",
       "aims: flux on the receiver nowhere above this; default as flat as can be."},
      {"--most-loss", "SHARE",
       "aims: share of the watts that may be given up when no limit is given, 0 to 0.5; default "
       "0.01."},
      {"--mean-concentration", "SUNS", "size: the mean over the receiver that is wanted."},
      {"--focal-length-m", "LEAST,MOST", "size: search the focal length between these."},
      {"--magnification", "LEAST,MOST", "size: search the secondary's magnification."},
      {"--receiver-mm", "LEAST,MOST",
       "size: width the receiver may have; default 0.1 to 100 % of the dish."},
      sun_x_option(),
      sun_y_option(),
      json_option(),
      {"--out", "OUT.dish.json", "Write the better dish to this file; the report is printed."},
  };
}

int carry_out_optimise(const Given& given, const Console& console) {
  Collected collected;
  const auto what = collected.take(word_of(given, "--what", {"aims", "size"}));
  const bool is_size = what && *what == "size";
  tasks::OptimiseRequest request;
  if (is_size) {
    request.wish = sizes_of(given, collected);
  } else {
    request.wish = aims_of(given, collected);
  }
  refuse_misplaced(given, is_size, collected);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply = tasks::run(dish.value(), request, progress_of(console, "searching"));
  end_progress(console);
  if (!reply) return report(console, as_options(reply.problems(), optimise_options()));
  if (const auto path = given.text("--out")) {
    const auto written = write_whole(*path, files::write_dish(reply.value().dish()));
    if (!written) return report(console, written.problems());
  }
  const auto written = write_out(console, given.has("--json") ? tasks::json_text(reply.value())
                                                              : tasks::report_text(reply.value()));
  return written ? k_done : report(console, written.problems());
}

}  // namespace cli
