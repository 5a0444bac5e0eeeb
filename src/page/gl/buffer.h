// Vertex data and how it is laid out.
#pragma once

#include <cstddef>
#include <vector>

#include "page/gl/handle.h"

namespace gl {

class Buffer {
 public:
  /// GL_ARRAY_BUFFER or GL_ELEMENT_ARRAY_BUFFER.
  explicit Buffer(GLenum target = GL_ARRAY_BUFFER) : target_(target) {}

  /// Replaces the contents; makes the object when there is none yet.
  template <class T>
  void fill(const std::vector<T>& items, GLenum usage = GL_DYNAMIC_DRAW) {
    fill_bytes(items.data(), items.size() * sizeof(T), usage);
    count_ = items.size();
  }

  void bind() const { glBindBuffer(target_, handle_.name()); }
  void forget() { handle_.forget(); }

  /// Items of the last fill.
  [[nodiscard]] std::size_t count() const { return count_; }

 private:
  void fill_bytes(const void* bytes, std::size_t size, GLenum usage);

  GLenum target_;
  std::size_t count_ = 0;
  Handle<free::buffer> handle_;
};

/// One attribute of floats inside a buffer's items.
struct Attribute {
  GLuint place = 0;        ///< layout(location = place)
  int floats = 0;          ///< 1 to 4
  std::size_t offset = 0;  ///< bytes from the item's start
  bool per_instance = false;
};

class VertexArray {
 public:
  /// Ties attributes of a buffer with items of `stride` bytes to this array; makes the object when
  /// there is none yet.
  void read(const Buffer& buffer, std::size_t stride, const std::vector<Attribute>& attributes);
  /// Lets this array draw by the buffer's indices.
  void read_indices(const Buffer& buffer);

  void bind() const { glBindVertexArray(handle_.name()); }
  void forget() { handle_.forget(); }
  explicit operator bool() const { return static_cast<bool>(handle_); }

 private:
  void make();

  Handle<free::vertex_array> handle_;
};

}  // namespace gl
