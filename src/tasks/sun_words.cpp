// One sentence and one object for each shape.
#include "tasks/sun_words.h"

#include <fmt/format.h>

#include "base/units.h"
#include "dish/ranges.h"
#include "files/unit_text.h"
#include "files/words.h"

namespace tasks {
namespace {

using dish::ranges::Quantity;

/// Without trailing zeros: a person gave the number.
std::string plain(double value) { return fmt::format("{:.6g}", value); }

std::string mrad(double rad) { return plain(base::mrad_from_rad(rad)) + " mrad"; }

struct Words {
  std::string disc;

  std::string operator()(const dish::PillboxSun&) const {
    return "an even disc, half angle " + disc;
  }
  std::string operator()(const dish::LimbDarkenedSun& sun) const {
    return fmt::format("a disc darker toward its limb (u {}), half angle {}",
                       plain(sun.coefficient), disc);
  }
  std::string operator()(const dish::GaussianSun& sun) const {
    return "a Gaussian of " + mrad(sun.sigma_rad) + " per axis";
  }
  std::string operator()(const dish::CircumsolarSun& sun) const {
    return fmt::format("a disc, half angle {}, with {} % of the light around it", disc,
                       plain(100.0 * sun.ratio));
  }
};

struct Members {
  Json& json;

  void operator()(const dish::PillboxSun&) const {}
  void operator()(const dish::LimbDarkenedSun& sun) const {
    add(Quantity::limb_darkening, sun.coefficient);
  }
  void operator()(const dish::GaussianSun& sun) const { add(Quantity::sun_sigma, sun.sigma_rad); }
  void operator()(const dish::CircumsolarSun& sun) const {
    add(Quantity::circumsolar_ratio, sun.ratio);
  }
  void add(Quantity quantity, double si) const {
    const dish::ranges::Range& range = dish::ranges::of(quantity);
    // By way of the file's own text, which is exact: 0.00465 times 1000 is not 4.65.
    const auto value =
        files::si_from_text(dish::ranges::Unit::none, files::text_from_si(range.unit, si));
    json[range.key] = number(value.value_or(si));
  }
};

}  // namespace

std::string sun_words(const dish::Sun& sun) {
  return std::visit(Words{mrad(sun.half_angle_rad)}, sun.shape);
}

Json sun_json(const dish::Sun& sun) {
  Json json{{"shape", files::word_of(files::k_sun_shapes, static_cast<int>(sun.shape.index()))}};
  const Members members{json};
  if (!std::holds_alternative<dish::GaussianSun>(sun.shape)) {
    members.add(Quantity::sun_half_angle, sun.half_angle_rad);
  }
  std::visit(members, sun.shape);
  return json;
}

}  // namespace tasks
