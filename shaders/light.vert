#version 300 es
// A flat piece of light in space: the spot on the receiver, its halo, the sun's disc.
precision highp float;

layout(location = 0) in vec3 position;
layout(location = 1) in vec2 place;

uniform mat4 clip_from_world;

out vec2 at;

void main() {
  at = place;
  gl_Position = clip_from_world * vec4(position, 1.0);
}
