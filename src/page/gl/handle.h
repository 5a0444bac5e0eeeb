// One owner for each GL object: deleted with its owner, or forgotten when its context is lost.
#pragma once

#include <GLES3/gl3.h>

#include <utility>

namespace gl {

/// `Free` deletes one object given its name. Name 0 is none.
template <void (*Free)(GLuint)>
class Handle {
 public:
  Handle() = default;
  explicit Handle(GLuint name) : name_(name) {}
  ~Handle() { reset(); }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  Handle(Handle&& other) noexcept : name_(std::exchange(other.name_, 0)) {}
  Handle& operator=(Handle&& other) noexcept {
    if (this != &other) {
      reset();
      name_ = std::exchange(other.name_, 0);
    }
    return *this;
  }

  [[nodiscard]] GLuint name() const { return name_; }
  explicit operator bool() const { return name_ != 0; }

  /// Deletes the object now.
  void reset() {
    if (name_ != 0) Free(name_);
    name_ = 0;
  }

  /// The context is lost and took the object with it.
  void forget() { name_ = 0; }

 private:
  GLuint name_ = 0;
};

namespace free {
inline void program(GLuint name) { glDeleteProgram(name); }
inline void shader(GLuint name) { glDeleteShader(name); }
inline void buffer(GLuint name) { glDeleteBuffers(1, &name); }
inline void vertex_array(GLuint name) { glDeleteVertexArrays(1, &name); }
inline void texture(GLuint name) { glDeleteTextures(1, &name); }
inline void framebuffer(GLuint name) { glDeleteFramebuffers(1, &name); }
inline void renderbuffer(GLuint name) { glDeleteRenderbuffers(1, &name); }
}  // namespace free

}  // namespace gl
