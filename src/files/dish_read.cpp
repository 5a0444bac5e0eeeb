// The way of a dish file: bytes, tree, migration, parts, checks.
#include "files/dish_read.h"

#include <algorithm>

#include <fmt/format.h>

#include "dish/checks.h"
#include "dish/defaults.h"
#include "files/decimal.h"
#include "files/dish_keys.h"
#include "files/dish_migrate.h"
#include "files/dish_read_parts.h"
#include "files/plain_text.h"

namespace files {
namespace {

constexpr const char* k_format = "facetwright dish";

/// Brings the tree to the present version. False when this is no dish file.
bool accept_format(ReadLog& log, JsonValue& root) {
  if (root.kind != JsonValue::Kind::object) {
    log.problem(root.line, "", describe(root), "a dish file: an object in braces { }");
    return false;
  }
  const JsonValue* format = find_member(root, "format");
  if (format == nullptr || format->kind != JsonValue::Kind::string || format->text != k_format) {
    log.problem(format == nullptr ? root.line : format->line, "format",
                format == nullptr ? "missing" : describe(*format), quoted_json(k_format));
    return false;
  }
  const JsonValue* version = find_member(root, "version");
  const std::string expected = fmt::format("a whole number, at present {}", k_dish_version);
  if (version == nullptr) {
    log.problem(root.line, "version", "missing", expected);
    return false;
  }
  const std::optional<double> number =
      version->kind == JsonValue::Kind::number ? number_from_text(version->text) : std::nullopt;
  const bool whole = number && *number >= 0.0 && *number <= 1e6 &&
                     *number == static_cast<double>(static_cast<int>(*number));
  if (!whole) {
    log.problem(version->line, "version", describe(*version), expected);
    return false;
  }
  if (*number > k_dish_version) {
    log.note(version->line, "version",
             fmt::format("this file is of version {}, newer than {}; what is not known is kept as "
                         "it is",
                         *number, k_dish_version));
    log.unknown.push_back({.place = "", .key = "version", .json = version->text});
    return true;
  }
  migrate_dish(root, static_cast<int>(*number), log.file_name, log.notes);
  return true;
}

/// Kinds for facets of a file that names none.
void add_default_kinds(const JsonValue& root, bool needs_type, dish::Dish& dish) {
  if (needs_type && find_member(root, "facet_types") == nullptr) {
    dish.facet_types.push_back(dish::default_facet_type(dish.focal_length_m));
  }
  if (find_member(root, "mounts") != nullptr) return;
  dish.mounts.push_back(dish::default_mount());
  const dish::SpringName& spring = dish.mounts.back().spring;
  if (!spring.text.empty() && dish::find_spring(dish, spring) == nullptr) {
    dish.springs.push_back(dish::default_spring());
    dish.springs.back().name = spring;
  }
}

bool lays_petals(const JsonValue& root) {
  const JsonValue* layout = find_member(root, "layout");
  const JsonValue* kind = layout == nullptr ? nullptr : find_member(*layout, "kind");
  return kind != nullptr && kind->text == "petals";
}

/// Facets as they are listed, or else laid out by a recipe (three rings when there is none), which
/// is done when all other parts are known.
void read_facets_or_layout(ObjectReader& root, const JsonValue& tree, dish::Dish& dish) {
  const bool listed = find_member(tree, "facets") != nullptr;
  const JsonValue* layout = find_member(tree, "layout");
  add_default_kinds(tree, listed || !lays_petals(tree), dish);
  read_facets(root, dish);
  if (listed) {
    root.find("layout");
    if (layout == nullptr) return;
    root.log().note(layout->line, "layout", "kept but not used, because the facets are listed");
    root.log().unknown.push_back({.place = "", .key = "layout", .json = compact_json(*layout)});
    return;
  }
  const dish::Layout recipe = read_layout(root, dish);
  if (root.log().problems.empty()) {
    expand_layout(root.log(), layout == nullptr ? tree.line : layout->line, recipe, dish);
  }
}

dish::Dish read_parts(ReadLog& log, const JsonValue& tree) {
  dish::Dish dish;
  ObjectReader root(log, tree, "", "dish");
  root.find("format");
  root.find("version");
  root.name("name", dish.name);
  root.text("note", dish.note);
  root.number(dish::ranges::Quantity::focal_length, dish.focal_length_m);
  read_sun(root, dish);
  read_site(root, dish);
  read_secondary(root, dish);
  read_receiver(root, dish);
  read_blockers(root, dish);
  read_facet_types(root, dish);
  read_springs(root, dish);
  read_mounts(root, dish);
  read_facets_or_layout(root, tree, dish);
  read_rounds(root, dish);
  root.finish();
  dish.unknown = std::move(log.unknown);
  return dish;
}

/// What dish::check calls an error, as problems of this file.
void add_errors(ReadLog& log, const dish::Dish& dish) {
  for (base::Problem& problem : dish::errors_of(dish)) {
    if (log.full()) return;
    problem.place = log.file_name + (problem.place.empty() ? "" : ", ") + problem.place;
    log.problems.push_back(std::move(problem));
  }
}

/// Reads the tree's parts and checks the whole. Nothing when there are problems.
std::optional<dish::Dish> read_tree(ReadLog& log, JsonValue& tree) {
  if (!accept_format(log, tree)) return std::nullopt;
  dish::Dish dish = read_parts(log, tree);
  if (log.problems.empty()) add_errors(log, dish);
  if (!log.problems.empty()) return std::nullopt;
  return dish;
}

std::optional<base::Problem> refuse_size(std::string_view bytes, std::string_view file_name) {
  const std::string file(file_name);
  if (bytes.size() > k_dish_file_cap_bytes) {
    return base::Problem{file, fmt::format("{:.1f} MB", static_cast<double>(bytes.size()) / 1e6),
                         fmt::format("a dish file of at most {} MB", k_dish_file_cap_bytes >> 20U)};
  }
  if (without_mark(bytes).empty()) return base::Problem{file, "the file is empty", "a dish file"};
  return std::nullopt;
}

}  // namespace

base::Result<ReadDish> read_dish(std::string_view bytes, std::string_view file_name) {
  if (const auto problem = refuse_size(bytes, file_name)) return *problem;
  base::Result<JsonValue> parsed = parse_json(bytes, file_name);
  if (!parsed) return parsed.problems();
  JsonValue tree = std::move(parsed).value();
  ReadLog log{.file_name = std::string(file_name)};
  std::optional<dish::Dish> dish = read_tree(log, tree);
  if (!dish) return log.problems;
  return ReadDish{.dish = std::move(*dish), .notes = std::move(log.notes)};
}

AskedKeys keys_asked_for(std::string_view bytes) {
  AskedKeys asked;
  base::Result<JsonValue> parsed = parse_json(bytes, "keys");
  if (!parsed) return asked;
  JsonValue tree = std::move(parsed).value();
  ReadLog log{.file_name = "keys", .asked = &asked};
  read_tree(log, tree);
  return asked;
}

}  // namespace files
