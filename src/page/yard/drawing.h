// Everything of the yard on the graphics card: programs, buffers, and the order of drawing.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "optics/live.h"
#include "page/gl/buffer.h"
#include "page/gl/program.h"
#include "page/gl/texture.h"
#include "page/yard/camera.h"
#include "page/yard/canvas.h"
#include "page/yard/ground.h"
#include "page/yard/mesh.h"
#include "page/yard/palette.h"
#include "page/yard/ribbons.h"
#include "page/yard/shadow_atlas.h"
#include "page/yard/tiles.h"

namespace yard {

/// A flat piece of light: a picture of flux, a halo, a disc.
struct LightPiece {
  enum class Kind { flux, halo, disc } kind = Kind::halo;
  std::vector<glm::vec3> corners;  ///< a convex polygon in the world
  std::vector<glm::vec2> places;   ///< texture place or place on the unit disc, for each corner
  glm::vec4 tone{1.0f};            ///< colour and strength
  float cover = 0.0f;              ///< 0 adds to what is behind it, 1 covers it
};

/// What is drawn this time.
struct Shot {
  Camera camera;
  Ground ground;
  base::Vec3 sun_world{0.0, 0.0, 1.0};
  float pixel_ratio = 1.0f;
  std::vector<LightPiece> lights;
};

class Drawing {
 public:
  /// Programs, if there are none. Needs the context.
  void prepare();
  void forget();

  void fill_tiles(const Tiles& tiles);
  void fill_marks(const std::vector<std::uint8_t>& marks);
  /// Where the glass lies in shadow; an empty atlas: not shown.
  void fill_shadows(const ShadowAtlas& atlas);
  void fill_flux(const optics::FluxMap& map, double full_W_m2);
  /// Solid bodies in their theme's colours, and flat ones that follow the eye.
  void fill_solids(const Solids& solids, const look::Theme& theme);
  void fill_ribbons(const Ribbons& ribbons);

  /// An empty picture.
  void clear(const Palette& palette, const Canvas& canvas);

  /// Draws everything into the canvas.
  void draw(const Shot& shot, const Palette& palette, const Canvas& canvas);

 private:
  struct Mesh {
    gl::Buffer vertices{GL_ARRAY_BUFFER};
    gl::Buffer indices{GL_ELEMENT_ARRAY_BUFFER};
    gl::VertexArray array;
    void forget();
  };

  void draw_backdrop(const Shot& shot, const Palette& palette, const Picture& picture);
  void draw_ground(const Shot& shot, const Palette& palette, const std::array<float, 16>& clip);
  void draw_tiles(const Shot& shot, const Palette& palette, const std::array<float, 16>& clip);
  void draw_solids(const Shot& shot, const std::array<float, 16>& clip);
  void draw_lights(const Shot& shot, const std::array<float, 16>& clip);
  void draw_ribbons(const Shot& shot, const Picture& picture, const std::array<float, 16>& clip);

  gl::Program backdrop_, ground_, tile_, solid_, ribbon_, light_;
  Mesh tiles_, solids_, ribbons_, lights_;
  gl::VertexArray empty_;
  gl::Texture marks_, flux_, shadows_;
  int shadow_columns_ = 0;
  int shadow_side_ = 0;
};

}  // namespace yard
