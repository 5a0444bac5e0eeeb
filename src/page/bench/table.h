// Tables with one facet a row: linked selection, figures aligned to the right, thousands of rows.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "session/session.h"

namespace page {

/// Opens a table with a facet column and the given ones; `rows` decides its height. When true,
/// draw the rows with for_rows and close with end_table.
bool begin_facet_table(const char* id, const std::vector<std::string>& columns, std::size_t rows);

/// The same for a table of other things: the first column is wide, for names.
bool begin_table(const char* id, const std::vector<std::string>& columns, std::size_t rows);

/// Ends it. Where its rows end, the wheel goes on with the bench, so that nobody is held in a
/// table.
void end_table();

/// Calls `row` for the rows in sight, each already begun.
void for_rows(std::size_t count, const std::function<void(std::size_t)>& row);

/// First cell of a row: the facet's name, over the whole row; hover and click select it.
void facet_cell(const dish::FacetId& facet, const session::Session& session,
                session::Actions& actions);

/// Next cell with a figure aligned to the right.
void number_cell(const std::string& figure);

}  // namespace page
