#version 300 es
// The mirror shows the sky it reflects; its back is dark; the edge is a fine line.
precision highp float;

in vec3 at;
in vec3 facing;
in float edge_share;
in vec2 shadow_place;
flat in float is_back;
flat in vec3 tint;
flat in float tinted;
flat in float state;

uniform highp int shadow_columns;  // 0: shadows are not shown
uniform sampler2D shadows;
uniform vec3 in_light;
uniform vec3 in_shadow;
uniform vec3 eye;
uniform vec3 sun;
uniform vec3 zenith;
uniform vec3 horizon;
uniform vec3 ground;
uniform vec3 glare;
uniform vec3 back;
uniform vec3 edge_ink;
uniform vec3 accent;

out vec4 colour;

vec3 sky(vec3 direction) {
  float up = direction.z;
  vec3 air = mix(horizon, zenith, pow(clamp(up, 0.0, 1.0), 0.55));
  vec3 earth = mix(horizon, ground, smoothstep(0.0, 0.12, -up));
  float to_sun = max(dot(direction, sun), 0.0);
  float near = 0.35 * pow(to_sun, 6.0) + 0.9 * pow(to_sun, 90.0);
  return mix(earth, air, smoothstep(-0.02, 0.02, up)) + glare * near;
}

void main() {
  vec3 normal = normalize(facing);
  vec3 to_eye = normalize(eye - at);
  float front = dot(normal, to_eye);
  vec3 shade;
  if (is_back > 0.5) {
    float light = 0.55 + 0.45 * abs(front) + 0.12 * normal.z;
    shade = mix(back, tint, 0.55 * tinted) * light;
  } else {
    vec3 seen = sky(reflect(-to_eye, normal));
    float light = 0.80 + 0.20 * clamp(front, 0.0, 1.0);
    shade = mix(seen, tint * light + 0.10 * seen, 0.92 * tinted);
    if (shadow_columns > 0) {
      float passes = texture(shadows, shadow_place / vec2(textureSize(shadows, 0))).r;
      shade = mix(in_shadow, in_light, passes) * light + 0.06 * seen;
    }
  }
  float pixel = max(fwidth(edge_share), 1e-5);
  float line = 1.0 - smoothstep(0.4 * pixel, 1.5 * pixel, edge_share);
  // On a tile of few pixels the line would be all there is.
  shade = mix(shade, edge_ink, 0.75 * line * (1.0 - smoothstep(0.12, 0.45, pixel)));
  if (state > 0.5) {
    float width = state > 1.5 ? 3.2 : 2.0;
    float rim = 1.0 - smoothstep((width - 0.7) * pixel, (width + 0.7) * pixel, edge_share);
    shade = mix(shade, accent, max(rim, state > 1.5 ? 0.24 : 0.12));
  }
  colour = vec4(shade, 1.0);
}
