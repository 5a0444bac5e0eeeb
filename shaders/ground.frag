#version 300 es
// A grid of metres that fades with distance, and the soft shadow the dish throws.
precision highp float;

in vec2 place;

uniform vec4 line_ink;
uniform vec4 shadow_ink;
uniform float reach;
uniform float half_side;
uniform float seen_from_above;

out vec4 colour;

float lines(vec2 at, float spacing) {
  vec2 share = at / spacing;
  vec2 pixel = max(fwidth(share), vec2(1e-6));
  vec2 distance = abs(fract(share - 0.5) - 0.5) / pixel;
  vec2 dense = smoothstep(0.25, 0.6, pixel);
  vec2 line = (1.0 - smoothstep(0.0, 1.1, distance)) * (1.0 - dense);
  return max(line.x, line.y);
}

void main() {
  float radius = length(place);
  float fade = 1.0 - smoothstep(0.15 * half_side, 0.95 * half_side, radius);
  float grid = max(0.55 * lines(place, 1.0), lines(place, 5.0));
  float shadow = exp(-2.2 * pow(length(place / vec2(1.0, 0.72)) / reach, 2.0));
  vec4 drawn = vec4(line_ink.rgb, line_ink.a * grid * fade);
  float dark = shadow_ink.a * shadow * seen_from_above;
  float cover = dark + drawn.a * (1.0 - dark);
  vec3 mixed = (shadow_ink.rgb * dark + drawn.rgb * drawn.a * (1.0 - dark)) / max(cover, 1e-4);
  colour = vec4(mixed, cover);
}
