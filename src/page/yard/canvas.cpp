// Four samples a pixel where the device has them.
#include "page/yard/canvas.h"

#include <algorithm>

namespace yard {
namespace {

constexpr GLint k_samples = 4;

template <class Handle>
void make(Handle& handle, void (*generate)(GLsizei, GLuint*)) {
  GLuint name = 0;
  generate(1, &name);
  handle = Handle(name);
}

GLint samples() {
  GLint most = 0;
  glGetIntegerv(GL_MAX_SAMPLES, &most);
  return std::min(k_samples, most);
}

void store(const gl::Handle<gl::free::renderbuffer>& buffer, GLenum format, int width, int height) {
  glBindRenderbuffer(GL_RENDERBUFFER, buffer.name());
  glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples(), format, width, height);
}

}  // namespace

bool Canvas::resize(int width, int height) {
  if (width == width_ && height == height_ && static_cast<bool>(samples_)) return false;
  width_ = width;
  height_ = height;
  picture_.make_target(width, height);
  make(colour_, glGenRenderbuffers);
  make(depth_, glGenRenderbuffers);
  make(samples_, glGenFramebuffers);
  make(resolved_, glGenFramebuffers);
  store(colour_, GL_RGBA8, width, height);
  store(depth_, GL_DEPTH_COMPONENT24, width, height);
  glBindFramebuffer(GL_FRAMEBUFFER, samples_.name());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, colour_.name());
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth_.name());
  glBindFramebuffer(GL_FRAMEBUFFER, resolved_.name());
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, picture_.name(), 0);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return true;
}

void Canvas::begin() const {
  glBindFramebuffer(GL_FRAMEBUFFER, samples_.name());
  glViewport(0, 0, width_, height_);
}

void Canvas::end() const {
  glBindFramebuffer(GL_READ_FRAMEBUFFER, samples_.name());
  glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolved_.name());
  glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void Canvas::forget() {
  picture_.forget();
  colour_.forget();
  depth_.forget();
  samples_.forget();
  resolved_.forget();
  width_ = 0;
  height_ = 0;
}

}  // namespace yard
