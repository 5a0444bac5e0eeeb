// Names a person gives things. Strong types, so that a facet is never looked up by a screw's label.
#pragma once

#include <string>

namespace dish {

/// A name of one kind of thing; compares and orders by its text.
template <class Tag>
struct Name {
  std::string text;
  friend bool operator==(const Name& a, const Name& b) { return a.text == b.text; }
  friend bool operator!=(const Name& a, const Name& b) { return a.text != b.text; }
  friend bool operator<(const Name& a, const Name& b) { return a.text < b.text; }
};

using FacetId = Name<struct FacetTag>;
using FacetTypeName = Name<struct FacetTypeTag>;
using MountName = Name<struct MountTag>;
using SpringName = Name<struct SpringTag>;

}  // namespace dish
