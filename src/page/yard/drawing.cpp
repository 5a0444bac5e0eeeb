// Opaque things first, then lines, then light, which adds.
#include "page/yard/drawing.h"

#include <cstddef>
#include <glm/gtc/type_ptr.hpp>

#include "embedded_shaders.h"
#include "page/widgets/light.h"

namespace yard {
namespace {

std::array<float, 16> columns(const glm::dmat4& matrix) {
  std::array<float, 16> values{};
  for (std::size_t i = 0; i < values.size(); ++i) {
    values[i] = static_cast<float>(matrix[static_cast<int>(i / 4)][static_cast<int>(i % 4)]);
  }
  return values;
}

void set(const gl::Program& program, const char* name, const glm::vec3& value) {
  program.set(name, value.x, value.y, value.z);
}

std::array<float, 4> four(const glm::vec4& value) { return {value.x, value.y, value.z, value.w}; }

void draw_indexed(std::size_t count) {
  glDrawElements(GL_TRIANGLES, static_cast<GLsizei>(count), GL_UNSIGNED_INT, nullptr);
}

// A body's vertex on the card: its colour instead of its kind.
struct SolidOnCard {
  glm::vec3 position;
  glm::vec3 normal;
  glm::vec3 colour;
};

struct LightOnCard {
  glm::vec3 position;
  glm::vec2 place;
};

}  // namespace

void Drawing::Mesh::forget() {
  vertices.forget();
  indices.forget();
  array.forget();
}

void Drawing::prepare() {
  if (tile_) return;
  backdrop_ = gl::Program(embedded::backdrop_vert, embedded::backdrop_frag);
  ground_ = gl::Program(embedded::ground_vert, embedded::ground_frag);
  tile_ = gl::Program(embedded::tile_vert, embedded::tile_frag);
  solid_ = gl::Program(embedded::solid_vert, embedded::solid_frag);
  ribbon_ = gl::Program(embedded::ribbon_vert, embedded::ribbon_frag);
  light_ = gl::Program(embedded::light_vert, embedded::light_frag);
}

void Drawing::forget() {
  for (gl::Program* program : {&backdrop_, &ground_, &tile_, &solid_, &ribbon_, &light_}) {
    program->forget();
  }
  for (Mesh* mesh : {&tiles_, &solids_, &ribbons_, &lights_}) mesh->forget();
  empty_.forget();
  for (gl::Texture* texture : {&marks_, &flux_, &shadows_}) texture->forget();
}

void Drawing::fill_tiles(const Tiles& tiles) {
  tiles_.vertices.fill(tiles.vertices);
  tiles_.indices.fill(tiles.indices);
  tiles_.array.read(tiles_.vertices, sizeof(TileVertex),
                    {{0, 3, offsetof(TileVertex, position)},
                     {1, 3, offsetof(TileVertex, normal)},
                     {2, 1, offsetof(TileVertex, edge)},
                     {3, 1, offsetof(TileVertex, facet)},
                     {4, 2, offsetof(TileVertex, place)}});
  tiles_.array.read_indices(tiles_.indices);
}

void Drawing::fill_marks(const std::vector<std::uint8_t>& marks) {
  marks_.fill_rgba(256, static_cast<int>(marks.size() / std::size_t{1024}), marks, false);
}

void Drawing::fill_flux(const optics::FluxMap& map, double full_W_m2) {
  if (map.columns <= 0 || map.rows <= 0) return;
  flux_.fill_rgba(map.columns, map.rows,
                  widgets::map_picture(map, widgets::MapLook::light, full_W_m2), true);
}

void Drawing::fill_shadows(const ShadowAtlas& atlas) {
  shadow_columns_ = atlas.columns;
  shadow_side_ = atlas.side;
  if (atlas.columns > 0) shadows_.fill_rgba(atlas.width(), atlas.height(), atlas.bytes, true);
}

void Drawing::fill_solids(const Solids& solids, const look::Theme& theme) {
  std::vector<SolidOnCard> vertices;
  vertices.reserve(solids.vertices.size());
  for (const SolidVertex& vertex : solids.vertices) {
    vertices.push_back({vertex.position, vertex.normal, colour_of(vertex.ink, theme)});
  }
  solids_.vertices.fill(vertices);
  solids_.indices.fill(solids.indices);
  solids_.array.read(solids_.vertices, sizeof(SolidOnCard),
                     {{0, 3, offsetof(SolidOnCard, position)},
                      {1, 3, offsetof(SolidOnCard, normal)},
                      {2, 3, offsetof(SolidOnCard, colour)}});
  solids_.array.read_indices(solids_.indices);
}

void Drawing::fill_ribbons(const Ribbons& ribbons) {
  ribbons_.vertices.fill(ribbons);
  ribbons_.array.read(ribbons_.vertices, sizeof(Ribbon),
                      {{0, 3, offsetof(Ribbon, from), true},
                       {1, 3, offsetof(Ribbon, to), true},
                       {2, 4, offsetof(Ribbon, colour_from), true},
                       {3, 4, offsetof(Ribbon, colour_to), true},
                       {4, 1, offsetof(Ribbon, width), true}});
}

void Drawing::clear(const Palette& palette, const Canvas& canvas) {
  canvas.begin();
  glClearColor(palette.upper.x, palette.upper.y, palette.upper.z, 1.0f);
  glDisable(GL_SCISSOR_TEST);
  glClear(GL_COLOR_BUFFER_BIT);
  canvas.end();
}

void Drawing::draw(const Shot& shot, const Palette& palette, const Canvas& canvas) {
  const Picture picture{static_cast<double>(canvas.picture().width()),
                        static_cast<double>(canvas.picture().height())};
  const auto clip = columns(clip_from_world(shot.camera, picture));
  canvas.begin();
  glDisable(GL_SCISSOR_TEST);
  glDisable(GL_CULL_FACE);
  glDisable(GL_BLEND);
  glDepthMask(GL_TRUE);
  glClear(GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT);
  draw_backdrop(shot, palette, picture);
  glEnable(GL_DEPTH_TEST);
  glDepthFunc(GL_LESS);
  draw_tiles(shot, palette, clip);
  draw_solids(shot, clip);
  glEnable(GL_BLEND);
  glBlendEquation(GL_FUNC_ADD);
  // The picture itself stays opaque whatever is laid over it.
  glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ONE);
  glDepthMask(GL_FALSE);
  draw_ground(shot, palette, clip);
  draw_ribbons(shot, picture, clip);
  glBlendFuncSeparate(GL_ONE, GL_ONE_MINUS_SRC_ALPHA, GL_ZERO, GL_ONE);
  draw_lights(shot, clip);
  glDepthMask(GL_TRUE);
  glDisable(GL_BLEND);
  glDisable(GL_DEPTH_TEST);
  glBindVertexArray(0);
  canvas.end();
}

void Drawing::draw_backdrop(const Shot& shot, const Palette& palette, const Picture& picture) {
  // The horizon's height in the picture follows from the eye's elevation.
  const double tilt = std::tan(-shot.camera.elevation_rad) / half_tangents(picture).y;
  backdrop_.use();
  set(backdrop_, "upper", palette.upper);
  set(backdrop_, "lower", palette.lower);
  backdrop_.set("horizon", static_cast<float>(0.5 - 0.5 * glm::clamp(tilt, -1.6, 1.6)));
  glDisable(GL_DEPTH_TEST);
  empty_.read(lights_.vertices, sizeof(LightOnCard), {});
  empty_.bind();
  glDrawArrays(GL_TRIANGLES, 0, 3);
}

void Drawing::draw_ground(const Shot& shot, const Palette& palette,
                          const std::array<float, 16>& clip) {
  const auto reach = static_cast<float>(shot.ground.reach_m);
  const double height = eye_of(shot.camera).place.z;
  if (height <= 0.0) return;  // from below the ground would only hide the dish
  ground_.use();
  ground_.set("clip_from_world", clip);
  ground_.set("half_side", std::max(7.0f, 7.0f * reach));
  ground_.set("reach", reach);
  ground_.set("seen_from_above", 1.0f);
  ground_.set("line_ink", four(palette.grid));
  ground_.set("shadow_ink", four(palette.shadow));
  empty_.bind();
  glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
}

void Drawing::draw_tiles(const Shot& shot, const Palette& palette,
                         const std::array<float, 16>& clip) {
  tile_.use();
  tile_.set("clip_from_world", clip);
  set(tile_, "eye", glm::vec3(eye_of(shot.camera).place));
  set(tile_, "sun", glm::vec3(shot.sun_world));
  set(tile_, "zenith", palette.mirror_zenith);
  set(tile_, "horizon", palette.mirror_horizon);
  set(tile_, "ground", palette.mirror_ground);
  set(tile_, "glare", palette.mirror_glare);
  set(tile_, "back", palette.tile_back);
  set(tile_, "edge_ink", palette.tile_edge);
  set(tile_, "accent", palette.accent);
  marks_.bind(0);
  tile_.set("facet_marks", 0);
  // A sampler is always bound to a picture, even to one that is not read.
  (shadow_columns_ > 0 ? shadows_ : marks_).bind(1);
  tile_.set("shadows", 1);
  tile_.set("shadow_columns", shadow_columns_);
  tile_.set("shadow_side", static_cast<float>(shadow_side_));
  set(tile_, "in_light", palette.in_light);
  set(tile_, "in_shadow", palette.in_shadow);
  tiles_.array.bind();
  draw_indexed(tiles_.indices.count());
}

void Drawing::draw_solids(const Shot& shot, const std::array<float, 16>& clip) {
  solid_.use();
  solid_.set("clip_from_world", clip);
  set(solid_, "eye", glm::vec3(eye_of(shot.camera).place));
  solids_.array.bind();
  draw_indexed(solids_.indices.count());
}

void Drawing::draw_ribbons(const Shot& shot, const Picture& picture,
                           const std::array<float, 16>& clip) {
  if (ribbons_.vertices.count() == 0) return;
  ribbon_.use();
  ribbon_.set("clip_from_world", clip);
  ribbon_.set("picture", static_cast<float>(picture.width), static_cast<float>(picture.height));
  ribbon_.set("pixel_ratio", shot.pixel_ratio);
  ribbons_.array.bind();
  glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, static_cast<GLsizei>(ribbons_.vertices.count()));
}

void Drawing::draw_lights(const Shot& shot, const std::array<float, 16>& clip) {
  light_.use();
  light_.set("clip_from_world", clip);
  light_.set("picture", 0);
  flux_.bind(0);
  std::vector<LightOnCard> vertices;
  for (const LightPiece& piece : shot.lights) {
    for (std::size_t i = 0; i < piece.corners.size(); ++i) {
      vertices.push_back({piece.corners[i], piece.places[i]});
    }
  }
  lights_.vertices.fill(vertices);
  lights_.array.read(
      lights_.vertices, sizeof(LightOnCard),
      {{0, 3, offsetof(LightOnCard, position)}, {1, 2, offsetof(LightOnCard, place)}});
  lights_.array.bind();
  GLint first = 0;
  for (const LightPiece& piece : shot.lights) {
    const auto count = static_cast<GLsizei>(piece.corners.size());
    light_.set("kind", static_cast<int>(piece.kind));
    light_.set("tone", four(piece.tone));
    light_.set("cover", piece.cover);
    glDrawArrays(GL_TRIANGLE_FAN, first, count);
    first += count;
  }
}

}  // namespace yard
