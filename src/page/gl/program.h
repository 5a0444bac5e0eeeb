// A linked pair of shaders and its uniforms.
#pragma once

#include <array>
#include <map>
#include <string>
#include <string_view>

#include "page/gl/handle.h"

namespace gl {

class Program {
 public:
  Program() = default;

  /// Compiles and links GLSL ES 3.00 sources (those of shaders/ are embedded: embedded_shaders.h).
  /// A source that does not compile is our own fault and stops the page with the compiler's words;
  /// on a lost context the program stays empty and draws nothing.
  Program(std::string_view vertex_source, std::string_view fragment_source);

  void use() const { glUseProgram(handle_.name()); }
  void forget() { handle_.forget(); }
  explicit operator bool() const { return static_cast<bool>(handle_); }

  /// Uniforms of the program in use. A name the linker has optimised away is ignored, as GL does.
  void set(const char* name, int value) const { glUniform1i(place(name), value); }
  void set(const char* name, float value) const { glUniform1f(place(name), value); }
  void set(const char* name, float x, float y) const { glUniform2f(place(name), x, y); }
  void set(const char* name, float x, float y, float z) const { glUniform3f(place(name), x, y, z); }
  void set(const char* name, const std::array<float, 4>& value) const {
    glUniform4fv(place(name), 1, value.data());
  }
  /// Column by column.
  void set(const char* name, const std::array<float, 16>& value) const {
    glUniformMatrix4fv(place(name), 1, GL_FALSE, value.data());
  }

 private:
  [[nodiscard]] GLint place(const char* name) const;

  Handle<free::program> handle_;
  std::map<std::string, GLint, std::less<>> places_;
};

}  // namespace gl
