// What holds a facet: three adjusters on a bracket, and their springs.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/vec.h"
#include "dish/ids.h"

namespace dish {

enum class Hand { right, left };
enum class Side { back, front };  ///< back: behind the dish, front: where the sun is

/// Whether the facet goes with the part that is turned, or carries the mating thread.
enum class Carry { with, against };

/// One adjuster at a fixed place on the bracket, moving along the bracket's axis.
struct Adjuster {
  std::string label;  ///< as read on the hardware
  double x_m = 0.0;   ///< place on the bracket
  double y_m = 0.0;
  double pitch_m = 0.001;  ///< lead per turn, > 0
  Hand hand = Hand::right;
  Side turned_from = Side::back;
  Carry carry = Carry::with;
  double travel_min_m = -0.006;  ///< most negative displacement from nominal, toward the bracket
  double travel_max_m = 0.006;   ///< most positive displacement from nominal, toward the sun
};

/// Which way the bracket's axis points when a facet says nothing of its own.
enum class BracketLie {
  facet,     ///< parallel to the facet at its nominal tilt
  aperture,  ///< parallel to the aperture plane: the axis is the dish's own
};

/// A kind of mount, named once and shared by facets.
struct Mount {
  MountName name;
  BracketLie lie = BracketLie::facet;
  double face_offset_m = 0.012;   ///< ball plane to reflecting face, along the facet's normal
  double standoff_m = 0.030;      ///< bracket's reference face to ball plane, at nominal
  double caliper_offset_m = 0.0;  ///< added to a height to get the caliper's reading
  int clicks_per_turn = 12;       ///< the smallest step a hand makes
  double backlash_turns = 0.5;    ///< how far beyond and back when ending in the loading direction
  std::vector<Adjuster> adjusters;
  SpringName spring;  ///< empty: no spring is described
};

/// A compression spring at each adjuster.
struct Spring {
  SpringName name;
  double free_length_m = 0.030;
  double solid_length_m = 0.012;
  double installed_length_m = 0.022;  ///< with the adjuster at nominal
  double rate_N_m = 2000.0;
  double least_force_N = 2.0;  ///< below this the facet is not held
  bool pushes_to_sun = false;  ///< false: it pulls the facet toward the bracket
};

/// A bracket that was measured, or that lies in a way of its own, in the dish frame.
struct Bracket {
  base::Vec3 origin_m{0.0, 0.0, 0.0};
  base::Vec3 x{1.0, 0.0, 0.0};
  base::Vec3 y{0.0, 1.0, 0.0};
};

}  // namespace dish
