// Tables and figures as the readable reports print them: fixed columns, sensible digits, units in
// the heading. Pure text, the same on every machine.
#pragma once

#include <string>
#include <vector>

namespace tasks {

/// Plain text columns. Every row has as many cells as there are columns.
struct Table {
  struct Column {
    std::string title;
    bool to_the_right = true;  ///< numbers line up on the right, names on the left
  };
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
};

/// The heading, a rule, and the rows; two spaces between columns; no space at a line's end.
std::string to_text(const Table& table);

/// The same rows as comma-separated values (RFC 4180: quotes around what needs them, CR LF is
/// not used: lines end with LF). `keys` is the header, one for each column.
std::string to_csv(const std::vector<std::string>& keys,
                   const std::vector<std::vector<std::string>>& rows);

/// A number with so many decimals; "-" when it is not finite; never "-0".
std::string fixed(double value, int decimals);

/// A number with its sign shown, "+0.25".
std::string fixed_signed(double value, int decimals);

/// A number with so many significant digits and no exponent between 1e-4 and 1e9.
std::string significant(double value, int digits);

/// The shortest text that reads back to the same number; empty when it is not finite.
std::string exact(double value);

/// "name   value" lines with the values lined up.
struct Lines {
  std::vector<std::pair<std::string, std::string>> entries;
  void add(std::string name, std::string value);
};
std::string to_text(const Lines& lines);

}  // namespace tasks
