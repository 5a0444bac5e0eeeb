#version 300 es
// The ground: a large square at height zero.
precision highp float;

uniform mat4 clip_from_world;
uniform float half_side;

out vec2 place;

void main() {
  vec2 corner = vec2(float(gl_VertexID & 1), float(gl_VertexID >> 1)) * 2.0 - 1.0;
  place = corner * half_side;
  gl_Position = clip_from_world * vec4(place, 0.0, 1.0);
}
