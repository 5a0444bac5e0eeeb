#version 300 es
// Light over what is there. kind 0: a picture of the flux; 1: a halo that falls off; 2: a disc.
precision highp float;

in vec2 at;

uniform int kind;
uniform vec4 tone;   // colour and strength
uniform float cover;  // 0 adds, 1 covers
uniform sampler2D picture;

out vec4 colour;

void main() {
  if (kind == 0) {
    bool inside = all(greaterThanEqual(at, vec2(0.0))) && all(lessThanEqual(at, vec2(1.0)));
    colour = inside ? vec4(texture(picture, at).rgb * tone.a, 0.0) : vec4(0.0);
    return;
  }
  float radius = length(at);
  float soft = kind == 1 ? pow(max(1.0 - radius, 0.0), 2.6)
                         : 1.0 - smoothstep(0.90, 1.0, radius);
  colour = vec4(tone.rgb, cover) * tone.a * soft;
}
