// Tables in text: lines, separators, quotes. What the fields mean is not decided here.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "dish/ranges.h"

namespace files {

struct CsvRow {
  int line = 0;                     ///< 1-based
  std::vector<std::string> fields;  ///< without quotes and surrounding spaces; empty ends dropped
};

struct CsvTable {
  char separator = ',';
  std::vector<CsvRow> rows;  ///< blank lines and lines that begin with # are left out
};

/// Cuts a text into rows. Lines end in LF, CRLF or CR; a byte-order mark is skipped. The separator
/// is the first of tab, semicolon and comma that the first row has outside quotes. A field in
/// double quotes may hold separators and doubled quotes and ends on its line.
/// Problems name the line: bytes that are no text (NUL, UTF-16, bad UTF-8), a quote that does not
/// end, more than 200,000 rows or 1,000 fields in one.
base::Result<CsvTable> read_csv(std::string_view bytes, std::string_view file_name);

/// A number in a field: a decimal point, or a decimal comma where the comma does not separate
/// fields; a true minus sign counts as one. Times ten to `shift`.
std::optional<double> number_in_field(std::string_view field, char separator, int shift);

/// The same as an SI value of a number in `unit`, exact (see files/unit_text.h).
std::optional<double> si_in_field(std::string_view field, char separator, dish::ranges::Unit unit);

/// The text as a field: quoted where it must be.
std::string csv_field(std::string_view text);

}  // namespace files
