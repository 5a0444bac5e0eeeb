// Facets' places by the person's pointing, then their phases.
#include "tasks/look_back_task.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/units.h"
#include "naming/look_back.h"
#include "tasks/facets.h"
#include "tasks/table.h"

namespace tasks {
namespace {

using base::mm_from_m;
using photo::FringeFault;

constexpr double k_enough_change = 0.02;

base::Result<std::vector<photo::MarkPair>> pairs_of(const dish::Dish& dish,
                                                    const std::vector<naming::FacetInView>& seen,
                                                    const std::vector<PointedFacet>& pointed) {
  std::vector<photo::MarkPair> pairs;
  base::Problems problems;
  for (const PointedFacet& one : pointed) {
    const std::size_t facet = dish::find_facet(dish, one.facet);
    if (facet == dish::k_no_facet) {
      problems.push_back(unknown_facet(dish, one.facet, "facets pointed at"));
    } else {
      pairs.push_back({one.image_px, seen[facet].plane_m});
    }
  }
  if (!problems.empty()) return problems;
  return pairs;
}

/// Every facet pointed at must be where the others put it, to within a facet.
std::optional<base::Problem> problem_of_pointing(const photo::PlacesInView& view,
                                                 const std::vector<PointedFacet>& pointed,
                                                 const std::vector<photo::FringePlace>& places) {
  double radius_px = 1e300;
  for (const photo::FringePlace& place : places) radius_px = std::min(radius_px, place.radius_px);
  if (pointed.size() <= 4 || view.worst_px <= radius_px) return std::nullopt;
  return base::Problem{
      "facets pointed at",
      fmt::format("{} by up to {:.0f} pixels",
                  view.worst ? pointed[*view.worst].facet.text + " does not fit the others,"
                             : "they do not fit each other,",
                  view.worst_px),
      "each pointed at in its middle and by its own name, and the camera where it stood"};
}

/// The pointing must tell every facet's place to within the facet.
std::optional<base::Problem> problem_of_spread(const dish::Dish& dish,
                                               const std::vector<photo::FringePlace>& places) {
  for (std::size_t k = 0; k < places.size(); ++k) {
    if (places[k].sigma_px <= std::max(places[k].radius_px, 1.0)) continue;
    return base::Problem{"facets pointed at",
                         "too near to one line or to each other: where " + dish.facets[k].id.text +
                             " is does not follow from them",
                         "four or more, all around the dish"};
  }
  return std::nullopt;
}

std::string sentence_of(const LookBackFacet& facet) {
  if (facet.reading.fault == FringeFault::none) return {};
  return fmt::format("{} {}.", facet.facet.text, photo::words_of(facet.reading.fault));
}

std::vector<std::string> notes_of(const LookBackReply& reply, const photo::FringeReadings& read) {
  std::vector<std::string> notes;
  if (reply.pointed == 4) {
    notes.emplace_back(
        "Four facets were pointed at, so nothing checks them: point at one or two more.");
  }
  if (read.change > k_enough_change) {
    notes.push_back(fmt::format(
        "The light changed by about {:.0f} % between the photos: lock the exposure, and keep "
        "other light steady.",
        100.0 * read.change));
  }
  return notes;
}

}  // namespace

base::Result<FacetsInPhoto> place_facets(const dish::Dish& dish, const base::Vec3& camera_m,
                                         const std::vector<PointedFacet>& pointed) {
  const auto seen = naming::facets_seen_from(dish, camera_m);
  if (!seen) return seen.problems();
  const auto pairs = pairs_of(dish, seen.value(), pointed);
  if (!pairs) return pairs.problems();
  const auto view = photo::view_of_places(pairs.value());
  if (!view) return view.problems();
  FacetsInPhoto facets{.residual_px = view.value().residual_px};
  for (const naming::FacetInView& one : seen.value()) {
    photo::FringePlace place{.sigma_px = photo::sigma_px_at(view.value(), one.plane_m)};
    if (const auto at = photo::place_in_photo(view.value(), one.plane_m)) {
      place.image_px = *at;
      place.radius_px = one.radius_m * photo::px_per_m_at(view.value(), one.plane_m);
    }
    facets.places.push_back(place);
  }
  if (auto problem = problem_of_pointing(view.value(), pointed, facets.places)) {
    return *std::move(problem);
  }
  if (auto problem = problem_of_spread(dish, facets.places)) return *std::move(problem);
  return facets;
}

base::Result<LookBackReply> run(const dish::Dish& dish, const LookBackRequest& request,
                                const base::Progress& progress) {
  if (base::Problems problems = photo::check(request.screen); !problems.empty()) return problems;
  const auto facets = place_facets(dish, request.camera_m, request.pointed);
  if (!facets) return facets.problems();
  if (progress.cancelled()) return base::Problem{"look_back", "cancelled", "to run to its end"};
  std::vector<photo::Image> images;
  std::vector<std::string> names;
  for (const SentPhoto& one : request.photos) {
    images.push_back(one.image);
    names.push_back(one.name);
  }
  const auto read = photo::read_fringes(images, names, request.screen, facets.value().places);
  if (!read) return read.problems();
  LookBackReply reply{.pointed = request.pointed.size(), .residual_px = facets.value().residual_px};
  for (std::size_t k = 0; k < dish.facets.size(); ++k) {
    LookBackFacet facet{.facet = dish.facets[k].id,
                        .image_px = facets.value().places[k].image_px,
                        .reading = read.value().places[k]};
    facet.sentence = sentence_of(facet);
    reply.facets.push_back(std::move(facet));
  }
  reply.notes = notes_of(reply, read.value());
  progress.tell(1.0);
  return reply;
}

std::vector<dish::Spot> spots_of(const LookBackReply& reply) {
  std::vector<dish::Spot> spots;
  for (const LookBackFacet& facet : reply.facets) {
    if (facet.reading.fault != FringeFault::none) continue;
    const base::Vec2& sigma = facet.reading.sigma_m;
    spots.push_back({facet.facet, facet.reading.screen_m, std::max(sigma.x, sigma.y)});
  }
  return spots;
}

std::string report_text(const LookBackReply& reply) {
  Table table{.columns = {{"facet", false}, {"right mm"}, {"up mm"}, {"+- mm"}, {"modulation"}}};
  std::string not_read;
  for (const LookBackFacet& facet : reply.facets) {
    const photo::FringeReading& reading = facet.reading;
    if (reading.fault != FringeFault::none) {
      not_read += facet.sentence + "\n";
      continue;
    }
    table.rows.push_back({facet.facet.text, fixed(mm_from_m(reading.screen_m.x), 2),
                          fixed(mm_from_m(reading.screen_m.y), 2),
                          fixed(mm_from_m(std::max(reading.sigma_m.x, reading.sigma_m.y)), 2),
                          fixed(reading.modulation, 2)});
  }
  Lines lines;
  lines.add("facets read", fmt::format("{} of {}", table.rows.size(), reply.facets.size()));
  lines.add("pointed at", fmt::format("{}, {} px beside their places (rms)", reply.pointed,
                                      fixed(reply.residual_px, 1)));
  std::string text = to_text(lines) + "\n" + to_text(table) + "\n" + not_read;
  for (const std::string& note : reply.notes) text += note + "\n";
  return text + "Right and up as someone sees it who faces the screen, from its middle.\n";
}

}  // namespace tasks
