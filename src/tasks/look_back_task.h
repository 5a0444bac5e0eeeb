// The answer "look_back": eight photographs of the dish, in whose facets a screen's fringes are
// seen, to the place of the screen that each facet shows.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/progress.h"
#include "base/result.h"
#include "dish/dish.h"
#include "photo/places_in_view.h"
#include "photo/read_fringes.h"
#include "tasks/sent_photos.h"

namespace tasks {

/// Where a person sees the middle of a facet in the photos, pixels from the top left corner.
struct PointedFacet {
  dish::FacetId facet;
  base::Vec2 image_px{0.0, 0.0};
  friend bool operator==(const PointedFacet&, const PointedFacet&) = default;
};

struct LookBackRequest {
  std::vector<SentPhoto> photos;  ///< eight, in the order of photo::fringe_light's pictures
  photo::Screen screen;
  base::Vec3 camera_m{0.0};           ///< entrance pupil, in the dish's frame
  std::vector<PointedFacet> pointed;  ///< four or more
};

/// Where facets are in a photo.
struct FacetsInPhoto {
  std::vector<photo::FringePlace> places;  ///< in the dish's order; radius 0: behind the camera
  double residual_px = 0.0;                ///< of the facets pointed at, root mean square
};

/// Problems: those of naming::facets_seen_from and photo::view_of_places, a facet that the dish
/// does not have, facets so near to a line that the others' places do not follow, a facet pointed
/// at so far from where the others put it that it must be another.
base::Result<FacetsInPhoto> place_facets(const dish::Dish& dish, const base::Vec3& camera_m,
                                         const std::vector<PointedFacet>& pointed);

struct LookBackFacet {
  dish::FacetId facet;
  base::Vec2 image_px{0.0, 0.0};
  photo::FringeReading reading;
  std::string sentence;  ///< why it was not read; empty when it was
};

struct LookBackReply {
  std::vector<LookBackFacet> facets;  ///< in the dish's order
  std::size_t pointed = 0;
  double residual_px = 0.0;
  std::vector<std::string> notes;
};

/// Problems: those of the screen, of place_facets and of photo::read_fringes, "cancelled".
base::Result<LookBackReply> run(const dish::Dish& dish, const LookBackRequest& request,
                                const base::Progress& progress = {});

/// What was read, as rows of a round whose source is a camera. Facets take the larger of the two
/// uncertainties.
std::vector<dish::Spot> spots_of(const LookBackReply& reply);

/// JSON: view {pointed, residual_px}, facets [{facet, x_px, y_px, right_mm, up_mm, sigma_mm,
/// modulation, text}], read, notes. right_mm, up_mm and sigma_mm are null for a facet that could
/// not be read, and text says why.
std::string json_text(const LookBackReply& reply);
std::string report_text(const LookBackReply& reply);

/// The request for tasks::run, the pixels behind it. `dish_text` is the text of the dish's file.
std::string look_back_request(std::string_view dish_text, const std::vector<RgbaPixels>& photos,
                              const photo::Screen& screen, const base::Vec3& camera_m,
                              const std::vector<PointedFacet>& pointed);

/// Problems: those the reply brings; a reply that is damaged. Why a facet was not read comes back
/// as its sentence, its fault only as "not none".
base::Result<LookBackReply> read_look_back_reply(std::string_view reply);

}  // namespace tasks
