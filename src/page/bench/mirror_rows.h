// Rows of a mirror's quality: what it reflects, how clean it is, how rough, how badly formed.
#pragma once

#include "dish/dish.h"
#include "page/bench/fields.h"

namespace page {

/// The reflecting layer of a kind of facet: a number, or a metal under a cover.
void show_coating_rows(const dish::FacetType& type, FieldMemory& memory, session::Actions& actions);

/// Random errors per axis.
void show_roughness_rows(const dish::FacetType& type, FieldMemory& memory,
                         session::Actions& actions);

/// What all facets of the kind have in common that they should not: bends and a rolled edge.
void show_form_error_rows(const dish::FacetType& type, FieldMemory& memory,
                          session::Actions& actions);

}  // namespace page
