// Pictures for shaders and places to draw into.
#pragma once

#include <cstdint>
#include <vector>

#include "page/gl/handle.h"

namespace gl {

class Texture {
 public:
  /// RGBA bytes, rows from v = 0. `smooth`: interpolated between texels; edges are clamped.
  void fill_rgba(int width, int height, const std::vector<std::uint8_t>& bytes, bool smooth);
  /// One float a texel, never interpolated by GL: many devices cannot.
  void fill_float(int width, int height, const std::vector<float>& values);
  /// Empty RGBA bytes to draw into.
  void make_target(int width, int height);

  void bind(int unit) const;
  void forget() { handle_.forget(); }
  [[nodiscard]] GLuint name() const { return handle_.name(); }
  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }

 private:
  void prepare(int width, int height, GLint filter);

  int width_ = 0;
  int height_ = 0;
  Handle<free::texture> handle_;
};

/// A colour texture with depth that can be drawn into.
class Framebuffer {
 public:
  /// Makes or resizes; false when the device refuses.
  bool make(int width, int height);

  /// Directs drawing here, with the viewport on all of it.
  void draw_here() const;
  void forget();
  [[nodiscard]] const Texture& colour() const { return colour_; }

 private:
  Texture colour_;
  Handle<free::renderbuffer> depth_;
  Handle<free::framebuffer> handle_;
};

}  // namespace gl
