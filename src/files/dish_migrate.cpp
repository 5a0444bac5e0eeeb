// One function for each step from a version to the next, and the table of them.
#include "files/dish_migrate.h"

#include <array>

#include <fmt/format.h>

#include "base/check.h"
#include "files/decimal.h"

namespace files {
namespace {

JsonValue* find_mutable(JsonValue& object, std::string_view key) {
  for (JsonValue& member : object.children) {
    if (member.key == key) return &member;
  }
  return nullptr;
}

/// Numbers in the value, however deep, times ten to `shift`, as text.
void shift_numbers(JsonValue& value, int shift) {
  for (JsonValue& child : value.children) shift_numbers(child, shift);
  if (value.kind != JsonValue::Kind::number) return;
  std::optional<Decimal> decimal = parse_decimal(value.text);
  if (!decimal) return;
  decimal->point += shift;
  value.text = to_text(*decimal);
}

/// Gives a member another key and its numbers another power of ten. A member that already has the
/// new key wins.
void rename_shifted(JsonValue& object, std::string_view from, std::string_view to, int shift) {
  JsonValue* member = find_mutable(object, from);
  if (member == nullptr || find_mutable(object, to) != nullptr) return;
  member->key = to;
  shift_numbers(*member, shift);
}

/// Version 0, the drafts before the first release, said the pitch of a screw, facet centres and
/// displacements in metres.
void from_version_0(JsonValue& root) {
  if (JsonValue* mounts = find_mutable(root, "mounts")) {
    for (JsonValue& mount : mounts->children) {
      JsonValue* adjusters = find_mutable(mount, "adjusters");
      if (adjusters == nullptr) continue;
      for (JsonValue& adjuster : adjusters->children) {
        rename_shifted(adjuster, "pitch_m", "pitch_mm", 3);
      }
    }
  }
  if (JsonValue* facets = find_mutable(root, "facets")) {
    for (JsonValue& facet : facets->children) {
      rename_shifted(facet, "centre_m", "centre_mm", 3);
      rename_shifted(facet, "displacement_m", "displacement_mm", 3);
    }
  }
}

struct Step {
  void (*apply)(JsonValue& root);
  const char* words;
};

/// Step i leads from version i to version i + 1.
constexpr std::array<Step, k_dish_version> k_steps{{
    {from_version_0, "screw pitches, facet centres and displacements are now in mm"},
}};

}  // namespace

void migrate_dish(JsonValue& root, int version, const std::string& file_name,
                  std::vector<std::string>& notes) {
  CHECK(version >= 0 && version <= k_dish_version, "only known versions are migrated");
  for (int at = version; at < k_dish_version; ++at) {
    const Step& step = k_steps[static_cast<std::size_t>(at)];
    step.apply(root);
    notes.push_back(
        fmt::format("{}: brought from version {} to {}: {}", file_name, at, at + 1, step.words));
  }
}

}  // namespace files
