// facetwright aims: a dish file whose facets aim at a pattern of points.
#include "base/units.h"
#include "cli/commands.h"
#include "cli/sighting_options.h"
#include "files/dish_write.h"
#include "tasks/aims_task.h"

namespace cli {
namespace {

using dish::ranges::Quantity;

tasks::AimsRequest read_pattern(const Given& given, Collected& collected) {
  tasks::AimsRequest request;
  const auto pattern = collected.take(word_of(given, "--pattern", {"single", "disc", "scaled"}));
  const auto radius_mm =
      collected.take(number_of(given, "--radius-mm", limits_of(Quantity::aim_radius)));
  const auto aim_mm = collected.take(numbers_of(given, "--aim-mm", 2, limits_of(Quantity::aim)));
  if (const auto sigma_mm =
          collected.take(number_of(given, "--spot-sigma-mm", limits_of(Quantity::spot_sigma)))) {
    request.spot_sigma_m = base::m_from_mm(*sigma_mm);
  }
  if (!given.has("--pattern")) {
    collected.add({"--pattern", "missing", "single, disc or scaled"});
  }
  if (!pattern) return request;
  const bool is_single = *pattern == "single";
  if (is_single == given.has("--radius-mm")) {
    collected.add({"--radius-mm", is_single ? "given with a single aim" : "missing",
                   is_single ? "--aim-mm RIGHT,UP, if not the centre" : "the pattern's radius"});
  }
  if (!is_single && given.has("--aim-mm")) {
    collected.add({"--aim-mm", "given with a pattern of many aims", "--pattern single"});
  }
  const double radius_m = base::m_from_mm(radius_mm.value_or(0.0));
  if (is_single && aim_mm) {
    request.pattern =
        dish::SingleAim{{base::m_from_mm((*aim_mm)[0]), base::m_from_mm((*aim_mm)[1])}};
  }
  if (*pattern == "disc") request.pattern = dish::DiscAims{radius_m};
  if (*pattern == "scaled") request.pattern = dish::ScaledAims{radius_m};
  return request;
}

}  // namespace

std::vector<Option> aims_options() {
  return {
      {"--pattern", "WORD",
       "single (all on one point), disc (spread evenly over a disc, inner facets inside) or "
       "scaled (a small copy of the dish)."},
      {"--radius-mm", "mm", "Radius of a disc or of the small copy, 0 to 10000 mm."},
      {"--aim-mm", "RIGHT,UP",
       "The single point, from the receiver's centre, -10000 to 10000 mm each; default 0,0."},
      {"--spot-sigma-mm", "mm",
       "Standard deviation of one facet's spot, 0.001 to 5000 mm: tells the peak to expect and "
       "the largest disc the receiver takes."},
      json_option(),
      out_option(),
  };
}

int carry_out_aims(const Given& given, const Console& console) {
  Collected collected;
  const tasks::AimsRequest request = read_pattern(given, collected);
  if (collected.any()) return report(console, collected.problems());
  const auto dish = open_dish_file(console, given.operands[0]);
  if (!dish) return report(console, dish.problems());
  const auto reply = tasks::run(dish.value(), request);
  if (!reply) return report(console, as_options(reply.problems(), aims_options()));
  if (given.has("--json")) return deliver(console, given, tasks::json_text(reply.value()));
  std::string words = tasks::report_text(reply.value());
  while (!words.empty()) {
    const std::size_t end = words.find('\n');
    remark(console, words.substr(0, end));
    words.erase(0, end + 1);
  }
  return deliver(console, given, files::write_dish(reply.value().dish));
}

}  // namespace cli
