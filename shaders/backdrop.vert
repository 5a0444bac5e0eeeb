#version 300 es
// One triangle over the whole picture.
precision highp float;

out vec2 place;  // 0..1 from the lower left

void main() {
  vec2 corner = vec2(float((gl_VertexID << 1) & 2), float(gl_VertexID & 2));
  place = corner;
  gl_Position = vec4(corner * 2.0 - 1.0, 0.0, 1.0);
}
