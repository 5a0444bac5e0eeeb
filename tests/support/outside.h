// Our numbers beside numbers from outside the project.
#pragma once

#include <string>

namespace support {

/// The five parts of a cited check; today's difference is pin less outside.
struct OutsideCheck {
  std::string what;      ///< unique in a test program
  std::string source;    ///< edition, table or page; the rows of one table share it
  double outside = 0.0;  ///< the number as the source gives it
  double ours = 0.0;
  double tolerance = 0.0;   ///< of ours against the outside number
  std::string why;          ///< the reason for the tolerance
  double pin = 0.0;         ///< what ours was when the two were last compared
  double tightness = 1e-9;  ///< of ours against the pin: share of its size, or of the tolerance if
                            ///< that is larger (numbers about zero)
};

/// The usual reason for a tolerance: that is how far the source rounded.
inline constexpr const char* k_half_digit = "half a last digit";

/// Fails the running test when ours is farther from the outside number than the tolerance, or has
/// left its pin. Remembers the check, so that all can be listed and counted.
void check_outside(const OutsideCheck& check);

/// Appends all checks to the file that the environment variable FW_OUTSIDE names, one a line, with
/// tabs between: test file, what, source, outside number, ours, tolerance, its reason. Does nothing
/// without it. Returns false when a name came twice or the file cannot be written.
/// tests/style/outside.py shows and counts them.
bool write_outside_checks();

}  // namespace support
