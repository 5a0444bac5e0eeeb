// Rows of a mirror's quality: what it reflects, how clean it is, how rough, how badly formed.
#pragma once

#include <functional>

#include "dish/dish.h"
#include "dish/edit.h"
#include "page/bench/fields.h"

namespace page {

/// A field's edit: the type with one thing of it changed.
template <class Change>
std::function<dish::Edit(double)> changing(const dish::FacetType& type, Change change) {
  return [type, change](double si) {
    dish::FacetType changed = type;
    change(changed, si);
    return dish::edit::UpsertFacetType{changed};
  };
}

/// The reflecting layer of a kind of facet: a number, or a metal under a cover.
void show_coating_rows(const dish::FacetType& type, FieldMemory& memory, session::Actions& actions);

/// Random errors per axis.
void show_roughness_rows(const dish::FacetType& type, FieldMemory& memory,
                         session::Actions& actions);

/// What all facets of the kind have in common that they should not: bends and a rolled edge.
void show_form_error_rows(const dish::FacetType& type, FieldMemory& memory,
                          session::Actions& actions);

}  // namespace page
