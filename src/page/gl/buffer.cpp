// Fills buffers and records vertex layouts.
#include "page/gl/buffer.h"

namespace gl {

void Buffer::fill_bytes(const void* bytes, std::size_t size, GLenum usage) {
  if (!handle_) {
    GLuint name = 0;
    glGenBuffers(1, &name);
    handle_ = Handle<free::buffer>(name);
  }
  // An index buffer binds into whatever vertex array is current; none must be.
  glBindVertexArray(0);
  glBindBuffer(target_, handle_.name());
  glBufferData(target_, static_cast<GLsizeiptr>(size), bytes, usage);
}

void VertexArray::make() {
  if (handle_) return;
  GLuint name = 0;
  glGenVertexArrays(1, &name);
  handle_ = Handle<free::vertex_array>(name);
}

void VertexArray::read(const Buffer& buffer, std::size_t stride,
                       const std::vector<Attribute>& attributes) {
  make();
  bind();
  buffer.bind();
  for (const Attribute& attribute : attributes) {
    glEnableVertexAttribArray(attribute.place);
    glVertexAttribPointer(attribute.place, attribute.floats, GL_FLOAT, GL_FALSE,
                          static_cast<GLsizei>(stride),
                          reinterpret_cast<const void*>(attribute.offset));
    glVertexAttribDivisor(attribute.place, attribute.per_instance ? 1 : 0);
  }
  glBindVertexArray(0);
}

void VertexArray::read_indices(const Buffer& buffer) {
  make();
  bind();
  buffer.bind();
  glBindVertexArray(0);
}

}  // namespace gl
