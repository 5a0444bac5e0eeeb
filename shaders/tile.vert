#version 300 es
// A facet's tile: position and normal in the world, one colour and state per facet from a texture.
precision highp float;
precision highp int;

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float edge;
layout(location = 3) in float facet;

uniform mat4 clip_from_world;
uniform highp sampler2D facet_marks;  // rgb tint, alpha 128 * tinted + state

out vec3 at;
out vec3 facing;
out float edge_share;
flat out float is_back;
flat out vec3 tint;
flat out float tinted;
flat out float state;  // 0 plain, 1 hovered, 2 selected

void main() {
  int index = int(facet + 0.5);
  vec4 mark = texelFetch(facet_marks, ivec2(index & 255, index >> 8), 0);
  float code = floor(mark.a * 255.0 + 0.5);
  tinted = step(128.0, code);
  state = code - 128.0 * tinted;
  tint = mark.rgb;
  is_back = step(1.5, edge);
  edge_share = edge - 2.0 * is_back;
  at = position;
  facing = normal;
  gl_Position = clip_from_world * vec4(position, 1.0);
}
