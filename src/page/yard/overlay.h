// What is written over the yard: views, legend, labels of the chosen facet and its screws.
#pragma once

#include <vector>

#include "page/layout.h"
#include "page/yard/parts.h"
#include "page/yard/yard.h"
#include "session/session.h"

namespace yard {

/// Words and marks over the picture; the words act.
void show_overlay(const session::Session& session, Yard& yard, const page::Rect& place,
                  session::Actions& actions);

/// Screws of a facet where they are in the yard; empty when its mount is not complete.
std::vector<ScrewPlace> screws_of(const session::Session& session, const Yard& yard,
                                  const dish::FacetId& facet);

}  // namespace yard
