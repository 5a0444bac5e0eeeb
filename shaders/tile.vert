#version 300 es
// A facet's tile: position and normal in the world, one colour and state per facet from a texture.
precision highp float;
precision highp int;

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in float edge;
layout(location = 3) in float facet;
layout(location = 4) in vec2 place;

uniform mat4 clip_from_world;
uniform highp sampler2D facet_marks;  // rgb tint, alpha 128 * tinted + state

uniform int shadow_columns;  // 0: shadows are not shown
uniform float shadow_side;

out vec3 at;
out vec3 facing;
out float edge_share;
out vec2 shadow_place;
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
  // Half a cell stays free at the edge of each square, so that neighbours do not run into it.
  int columns = max(shadow_columns, 1);
  vec2 square = vec2(index % columns, index / columns);
  shadow_place = square * shadow_side + clamp(place * shadow_side, 0.5, shadow_side - 0.5);
  at = position;
  facing = normal;
  gl_Position = clip_from_world * vec4(position, 1.0);
}
