// Compiles shaders and looks all uniforms up once, when the program is linked.
#include "page/gl/program.h"

#include <fmt/format.h>

#include <stdexcept>

namespace gl {
namespace {

Handle<free::shader> compile(GLenum kind, std::string_view source) {
  Handle<free::shader> shader(glCreateShader(kind));
  const GLchar* text = source.data();
  const auto length = static_cast<GLint>(source.size());
  glShaderSource(shader.name(), 1, &text, &length);
  glCompileShader(shader.name());
  return shader;
}

/// The compiler's complaint, empty when there is none.
std::string complaint(const Handle<free::shader>& shader) {
  GLint compiled = GL_FALSE;
  glGetShaderiv(shader.name(), GL_COMPILE_STATUS, &compiled);
  if (compiled == GL_TRUE) return {};
  std::array<GLchar, 1024> words{};
  GLsizei length = 0;
  glGetShaderInfoLog(shader.name(), static_cast<GLsizei>(words.size()), &length, words.data());
  return {words.data(), static_cast<std::size_t>(length)};
}

std::map<std::string, GLint, std::less<>> find_uniforms(GLuint program) {
  std::map<std::string, GLint, std::less<>> places;
  GLint count = 0;
  glGetProgramiv(program, GL_ACTIVE_UNIFORMS, &count);
  for (GLint index = 0; index < count; ++index) {
    std::array<GLchar, 128> name{};
    GLint size = 0;
    GLenum type = 0;
    glGetActiveUniform(program, static_cast<GLuint>(index), static_cast<GLsizei>(name.size()),
                       nullptr, &size, &type, name.data());
    places[name.data()] = glGetUniformLocation(program, name.data());
  }
  return places;
}

}  // namespace

Program::Program(std::string_view vertex_source, std::string_view fragment_source)
    : handle_(glCreateProgram()) {
  if (handle_.name() == 0) return;
  const auto vertex = compile(GL_VERTEX_SHADER, vertex_source);
  const auto fragment = compile(GL_FRAGMENT_SHADER, fragment_source);
  glAttachShader(handle_.name(), vertex.name());
  glAttachShader(handle_.name(), fragment.name());
  glLinkProgram(handle_.name());
  GLint linked = GL_FALSE;
  glGetProgramiv(handle_.name(), GL_LINK_STATUS, &linked);
  if (linked != GL_TRUE) {
    const std::string words = complaint(vertex) + complaint(fragment);
    handle_.reset();
    // A lost context reports failure without a word: that is no fault of the source.
    if (!words.empty())
      throw std::runtime_error(fmt::format("a shader does not compile: {}", words));
    return;
  }
  places_ = find_uniforms(handle_.name());
}

GLint Program::place(const char* name) const {
  const auto found = places_.find(std::string_view(name));
  return found == places_.end() ? -1 : found->second;
}

}  // namespace gl
