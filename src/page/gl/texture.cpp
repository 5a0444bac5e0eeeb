// Uploads textures and assembles framebuffers.
#include "page/gl/texture.h"

#include "base/check.h"

namespace gl {

void Texture::prepare(int width, int height, GLint filter) {
  if (!handle_) {
    GLuint name = 0;
    glGenTextures(1, &name);
    handle_ = Handle<free::texture>(name);
  }
  width_ = width;
  height_ = height;
  glBindTexture(GL_TEXTURE_2D, handle_.name());
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, filter);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
}

void Texture::fill_rgba(int width, int height, const std::vector<std::uint8_t>& bytes,
                        bool smooth) {
  CHECK(bytes.size() == static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 4,
        "a texture gets four bytes for each texel");
  prepare(width, height, smooth ? GL_LINEAR : GL_NEAREST);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE,
               bytes.data());
}

void Texture::fill_float(int width, int height, const std::vector<float>& values) {
  CHECK(values.size() == static_cast<std::size_t>(width) * static_cast<std::size_t>(height),
        "a texture of values gets one for each texel");
  prepare(width, height, GL_NEAREST);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_R32F, width, height, 0, GL_RED, GL_FLOAT, values.data());
}

void Texture::make_target(int width, int height) {
  prepare(width, height, GL_LINEAR);
  glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
}

void Texture::bind(int unit) const {
  glActiveTexture(GL_TEXTURE0 + static_cast<GLenum>(unit));
  glBindTexture(GL_TEXTURE_2D, handle_.name());
}

bool Framebuffer::make(int width, int height) {
  if (handle_ && colour_.width() == width && colour_.height() == height) return true;
  colour_.make_target(width, height);
  GLuint depth = 0;
  glGenRenderbuffers(1, &depth);
  depth_ = Handle<free::renderbuffer>(depth);
  glBindRenderbuffer(GL_RENDERBUFFER, depth);
  glRenderbufferStorage(GL_RENDERBUFFER, GL_DEPTH_COMPONENT24, width, height);
  GLuint name = 0;
  glGenFramebuffers(1, &name);
  handle_ = Handle<free::framebuffer>(name);
  glBindFramebuffer(GL_FRAMEBUFFER, name);
  glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, colour_.name(), 0);
  glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, depth);
  const bool complete = glCheckFramebufferStatus(GL_FRAMEBUFFER) == GL_FRAMEBUFFER_COMPLETE;
  glBindFramebuffer(GL_FRAMEBUFFER, 0);
  return complete;
}

void Framebuffer::draw_here() const {
  glBindFramebuffer(GL_FRAMEBUFFER, handle_.name());
  glViewport(0, 0, colour_.width(), colour_.height());
}

void Framebuffer::forget() {
  colour_.forget();
  depth_.forget();
  handle_.forget();
}

}  // namespace gl
