#version 300 es
// Solid bodies and the flat person: one colour a kind.
precision highp float;

layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in vec3 ink;

uniform mat4 clip_from_world;

out vec3 facing;
out vec3 at;
flat out vec3 base_colour;

void main() {
  base_colour = ink;
  facing = normal;
  at = position;
  gl_Position = clip_from_world * vec4(position, 1.0);
}
