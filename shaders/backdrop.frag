#version 300 es
// Air above a low horizon: two tones that meet softly.
precision highp float;

in vec2 place;

uniform vec3 upper;
uniform vec3 lower;
uniform float horizon;  // height in the picture, 0..1

out vec4 colour;

void main() {
  float share = smoothstep(horizon - 0.45, horizon + 0.35, place.y);
  // A grain of less than one step keeps the gradient from banding.
  float grain = fract(sin(dot(gl_FragCoord.xy, vec2(12.9898, 78.233))) * 43758.5453) - 0.5;
  colour = vec4(mix(lower, upper, share) + grain / 255.0, 1.0);
}
