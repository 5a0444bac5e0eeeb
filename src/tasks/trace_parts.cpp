// Sends stretches of chunks and their sums as text, and adds the replies up.
#include "tasks/trace_parts.h"

#include <fmt/format.h>

#include <limits>
#include <utility>

#include "optics/scene.h"
#include "optics/trace_part.h"
#include "tasks/codec.h"
#include "tasks/json.h"

namespace tasks {
namespace {

/// First chunk of a part: parts differ by one chunk at most. Exact for 2^54 chunks in 1024 parts.
std::uint64_t first_chunk_of(std::uint64_t chunks, std::size_t part, std::size_t parts) {
  return chunks / parts * part + chunks % parts * part / parts;
}

/// Counts that are mostly zero as [place, count, place, count, ...].
Json sparse_json(const std::vector<std::int64_t>& counts) {
  Json list = Json::array();
  for (std::size_t k = 0; k < counts.size(); ++k) {
    if (counts[k] == 0) continue;
    list.push_back(k);
    list.push_back(counts[k]);
  }
  return list;
}

bool read_sparse(const Json& list, std::vector<std::int64_t>& counts) {
  if (!list.is_array() || list.size() % 2 != 0) return false;
  for (std::size_t k = 0; k < list.size(); k += 2) {
    if (!list[k].is_number_unsigned() || !list[k + 1].is_number_integer()) return false;
    const auto place = list[k].get<std::uint64_t>();
    if (place >= counts.size()) return false;
    counts[place] = list[k + 1].get<std::int64_t>();
  }
  return true;
}

Json chunks_json(const std::vector<optics::ChunkSums>& chunks) {
  Json list = Json::array();
  for (const optics::ChunkSums& chunk : chunks) {
    for (const double sum : chunk.sum) list.push_back(number(sum));
  }
  return list;
}

bool read_chunks(const Json& list, std::vector<optics::ChunkSums>& chunks) {
  constexpr std::size_t k_accounts = optics::ChunkSums::account_count;
  if (!list.is_array() || list.size() % k_accounts != 0) return false;
  chunks.resize(list.size() / k_accounts);
  for (std::size_t k = 0; k < list.size(); ++k) {
    if (!list[k].is_number()) return false;
    chunks[k / k_accounts].sum[k % k_accounts] = list[k].get<double>();
  }
  return true;
}

std::string part_text(const optics::TracePart& part) {
  return to_dense_text(Json{{"first_chunk", part.first_chunk},
                            {"chunks", chunks_json(part.chunks)},
                            {"spot", sparse_json(part.spot.counts())},
                            {"map", sparse_json(part.map)}});
}

base::Problem damaged(std::size_t reply) {
  return {fmt::format("part {}", reply + 1), "its reply is damaged", "the reply of a worker"};
}

/// The problems that a worker answered instead of a part.
base::Problems problems_in(const Json& reply) {
  base::Problems problems;
  for (const Json& entry : reply["problems"]) {
    if (!entry.is_object()) continue;
    problems.push_back(
        {entry.value("place", ""), entry.value("value", ""), entry.value("expected", "")});
  }
  return problems;
}

base::Result<optics::TracePart> read_part(const std::string& reply, std::size_t number,
                                          const optics::TracePart& empty) {
  const auto parsed = parse_json(reply, fmt::format("part {}", number + 1));
  if (!parsed) return parsed.problems();
  const Json& json = parsed.value();
  if (!json.is_object()) return damaged(number);
  if (json.contains("problems")) {
    base::Problems problems = problems_in(json);
    if (problems.empty()) return damaged(number);
    return problems;
  }
  for (const char* key : {"first_chunk", "chunks", "spot", "map"}) {
    if (!json.contains(key)) return damaged(number);
  }
  optics::TracePart part = empty;
  std::vector<std::int64_t> spot(optics::SpotCount::k_counts, 0);
  if (!json["first_chunk"].is_number_unsigned() || !read_chunks(json["chunks"], part.chunks) ||
      !read_sparse(json["spot"], spot) || !read_sparse(json["map"], part.map)) {
    return damaged(number);
  }
  part.first_chunk = json["first_chunk"].get<std::uint64_t>();
  part.spot.set_counts(spot);
  return part;
}

/// Whether the parts hold every chunk of the plan once.
bool is_whole(const std::vector<optics::TracePart>& parts, std::uint64_t chunks) {
  std::vector<bool> seen(chunks, false);
  std::uint64_t count = 0;
  for (const optics::TracePart& part : parts) {
    for (std::uint64_t k = 0; k < part.chunks.size(); ++k) {
      const std::uint64_t chunk = part.first_chunk + k;
      if (chunk >= chunks || seen[chunk]) return false;
      seen[chunk] = true;
      ++count;
    }
  }
  return count == chunks;
}

}  // namespace

std::string trace_part_request(std::string_view dish_text, const TraceRequest& request,
                               std::size_t part, std::size_t parts) {
  const optics::TraceSettings& trace = request.settings;
  Json json{{"task", "trace_part"},
            {"part", part},
            {"parts", parts},
            {"rays", trace.rays},
            {"seed", trace.seed},
            {"map_cells", trace.map_cells},
            {"exact_sun_rad", numbers(trace.tracking_error_rad)},
            {"exact_map_width_m", number(trace.map_width_m)}};
  if (request.facet) json["facet"] = request.facet->text;
  json["dish"] = std::string(dish_text);
  return to_dense_text(json);
}

base::Result<optics::TraceResult> merge_trace_parts(const dish::Dish& dish,
                                                    const TraceRequest& request,
                                                    const std::vector<std::string>& replies) {
  const auto settings = settings_of(dish, request);
  if (!settings) return settings.problems();
  const auto scene = optics::make_scene(
      dish, {.tracking_error_rad = settings.value().tracking_error_rad, .cull = true});
  if (!scene) return scene.problems();
  const optics::TracePart empty = optics::trace_part(scene.value(), settings.value(), 0, 0);
  std::vector<optics::TracePart> parts;
  for (std::size_t k = 0; k < replies.size(); ++k) {
    auto part = read_part(replies[k], k, empty);
    if (!part) return part.problems();
    parts.push_back(std::move(part).value());
  }
  const std::uint64_t chunks = optics::plan_trace(scene.value(), settings.value()).chunks();
  if (!is_whole(parts, chunks)) {
    return base::Problem{"trace", "its parts do not make a whole",
                         fmt::format("each of {} chunks once", chunks)};
  }
  return optics::merge_parts(scene.value(), settings.value(), parts);
}

base::Result<std::string> answer_trace_part(const Call& call) {
  TraceRequest request = read_trace_request(call.settings);
  // In SI, because a number that went through another unit may differ in its last bit.
  if (const auto sun = call.settings.pair("exact_sun_rad", -1.0, 1.0)) {
    request.settings.tracking_error_rad = *sun;
  }
  if (const auto width = call.settings.number("exact_map_width_m", 0.0, 1e6)) {
    request.settings.map_width_m = *width;
  }
  const std::size_t parts = call.settings.whole("parts", 1, k_most_parts).value_or(1);
  const std::size_t part = call.settings.whole("part", 0, parts - 1).value_or(0);
  if (const base::Problems problems = call.settings.finish(); !problems.empty()) return problems;
  const auto settings = settings_of(call.dish, request);
  if (!settings) return settings.problems();
  const auto scene = optics::make_scene(
      call.dish, {.tracking_error_rad = settings.value().tracking_error_rad, .cull = true});
  if (!scene) return scene.problems();
  const std::uint64_t chunks = optics::plan_trace(scene.value(), settings.value()).chunks();
  const std::uint64_t first = first_chunk_of(chunks, part, parts);
  const std::uint64_t end = first_chunk_of(chunks, part + 1, parts);
  const optics::TracePart traced =
      optics::trace_part(scene.value(), settings.value(), first, end - first, call.progress);
  if (traced.chunks.size() < end - first) {
    return base::Problem{"cancelled", "", "a trace that was let finish"};
  }
  return part_text(traced);
}

}  // namespace tasks
