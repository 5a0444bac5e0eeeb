// A multisampled place to draw into, resolved into a texture that the interface shows until
// something changes.
#pragma once

#include "page/gl/handle.h"
#include "page/gl/texture.h"

namespace yard {

class Canvas {
 public:
  /// Makes it of this size in framebuffer pixels; true when its contents are gone.
  bool resize(int width, int height);
  /// Directs drawing here, with the viewport on all of it.
  void begin() const;
  /// Resolves the samples into the texture and leaves the default framebuffer bound.
  void end() const;
  void forget();

  [[nodiscard]] const gl::Texture& picture() const { return picture_; }

 private:
  int width_ = 0;
  int height_ = 0;
  gl::Texture picture_;
  gl::Handle<gl::free::renderbuffer> colour_;
  gl::Handle<gl::free::renderbuffer> depth_;
  gl::Handle<gl::free::framebuffer> samples_;
  gl::Handle<gl::free::framebuffer> resolved_;
};

}  // namespace yard
