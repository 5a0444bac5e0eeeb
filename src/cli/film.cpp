// The photos' order tells what each shows: the whole dish, the first crossing, the second.
#include "cli/film.h"

#include <fmt/format.h>

#include "base/units.h"
#include "cli/options.h"

namespace cli {

std::vector<Option> film_options() {
  return {
      {"--film", "N",
       "With --dish: the first photo given shows the whole dish, the next N an opaque edge that "
       "crosses it, the rest another crossing, all from one place at even times. Names come from "
       "when "
       "each spot goes out. Twenty frames of each or so, at least 4."},
      {"--edges-deg", "A,B",
       "With --film: where the edges move to, anticlockwise from the dish's right as seen from the "
       "sun; default 10.9,100.9."},
  };
}

std::optional<Film> film_of(const Given& given, Collected& collected) {
  const auto first =
      collected.take(whole_of(given, "--film", naming::k_least_frames, tasks::k_most_photos));
  const auto degrees = collected.take(numbers_of(given, "--edges-deg", 2, {-360.0, 360.0}));
  if (!given.has("--film")) {
    if (given.has("--edges-deg")) {
      collected.add({"--edges-deg", "given without --film", "--film too"});
    }
    return std::nullopt;
  }
  for (const char* name : {"--reference", "--look-back"}) {
    if (given.has(name)) collected.add({name, "given with --film", "one of the two"});
  }
  if (!given.has("--dish")) collected.add({"--dish", "missing", "the dish whose spots they are"});
  const std::size_t frames = given.operands.size() - 1;
  if (first && frames < *first + naming::k_least_frames) {
    collected.add(
        {"--film", fmt::format("{} of {} frames", *first, frames),
         fmt::format("at least {} more, of the second crossing", naming::k_least_frames)});
  }
  Film film;
  if (first) film.first_frames = static_cast<std::size_t>(*first);
  if (degrees) {
    film.directions_rad = {base::rad_from_deg((*degrees)[0]), base::rad_from_deg((*degrees)[1])};
  }
  return film;
}

base::Result<std::vector<naming::FilmedCrossing>> crossings_of(const Film& film,
                                                               const tasks::SpotsReply& reply) {
  std::vector<naming::FilmedCrossing> crossings{{.direction_rad = film.directions_rad[0]},
                                                {.direction_rad = film.directions_rad[1]}};
  for (std::size_t k = 1; k < reply.photos.size(); ++k) {
    if (!reply.photos[k].problems.empty()) return reply.photos[k].problems;
    crossings[k <= film.first_frames ? 0 : 1].left.push_back(reply.photos[k].left);
  }
  return crossings;
}

}  // namespace cli
