// What is on the table while photographs of the board are read. None of it is kept with the dish.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "dish/ids.h"
#include "naming/cells.h"
#include "naming/edge_sweep.h"
#include "naming/identify.h"
#include "photo/board_marks.h"
#include "photo/find_marks.h"
#include "photo/rectify.h"
#include "session/actions.h"
#include "tasks/look_back_task.h"

namespace session {

/// A photograph as the browser decoded it: upright, rows from the top, four bytes a pixel.
struct BoardPhoto {
  std::string name;
  int width_px = 0;
  int height_px = 0;
  std::shared_ptr<const std::string> rgba;
  std::vector<photo::ClickedMark> clicked;
  std::uint64_t number = 0;  ///< its own, never used again: pictures on the device go by it
};

/// A spot that the person gave to a facet, or to nobody.
struct GivenSpot {
  std::size_t photo = 0;
  std::size_t spot = 0;
  std::optional<dish::FacetId> facet;
};

/// A screen's fringes seen in the facets: where screen and camera stand, and which facets a person
/// pointed at.
struct LookBackWork {
  photo::Screen screen;
  base::Vec3 camera_m{0.0, 0.0, 30.0};
  double before_m = 0.0;  ///< how far before the receiver the screen stands
  std::vector<tasks::PointedFacet> pointed;

  // Made from them.
  std::optional<tasks::FacetsInPhoto> places;  ///< of all facets, in the dish's order
  base::Problems problems;                     ///< why there are no places
  std::uint64_t revision = 0;                  ///< of the dish that they belong to
};

/// An edge that crosses the dish twice: where it moves to, and with which photos (by number) each
/// crossing begins; before the first there is the whole dish.
struct CrossingWork {
  double first_rad = naming::k_first_sweep_rad;
  double second_rad = naming::k_second_sweep_rad;
  std::uint64_t first_from = 0;   ///< 0: with the second photo
  std::uint64_t second_from = 0;  ///< 0: not said yet
};

struct PhotoWork {
  bool shown = false;
  PhotoKind kind = PhotoKind::spots;
  CrossingWork crossing;
  LookBackWork look_back;
  std::vector<BoardPhoto> photos;
  std::size_t chosen = 0;
  std::optional<std::size_t> reference;  ///< the photo of the covered dish
  photo::Board board;
  double before_focus_m = 0.0;                    ///< how far inside the focus the board stands
  std::size_t groups = 1;                         ///< of facets uncovered together, one photo each
  double prior_rad = naming::k_caliper_tilt_rad;  ///< per axis, before the first round
  std::uint64_t next_number = 1;

  // Made from the worker's reply.
  std::vector<std::optional<std::size_t>> reply_of;       ///< by photo: its place in the reply
  std::vector<std::optional<photo::Rectification>> view;  ///< by photo
  std::optional<naming::IdentifyTarget> target;
  std::vector<naming::BoardLook> looks;  ///< one for each photo that was read
  std::vector<std::size_t> look_photos;  ///< the photo of each look
  std::optional<naming::Identification> found;
  base::Problems problems;  ///< why there is no identification
  std::vector<GivenSpot> given;
  std::uint64_t revision = 0;  ///< of the dish that the spots were identified with
};

}  // namespace session
