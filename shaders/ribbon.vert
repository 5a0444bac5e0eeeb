#version 300 es
// A line in space as a quad of so many pixels: four corners for each instance.
precision highp float;

layout(location = 0) in vec3 from;
layout(location = 1) in vec3 to;
layout(location = 2) in vec4 colour_from;
layout(location = 3) in vec4 colour_to;
layout(location = 4) in float width;  // CSS pixels

uniform mat4 clip_from_world;
uniform vec2 picture;      // framebuffer pixels
uniform float pixel_ratio;

out vec4 ink;
out float across;  // pixels from the middle
flat out float half_width;

void main() {
  vec4 a = clip_from_world * vec4(from, 1.0);
  vec4 b = clip_from_world * vec4(to, 1.0);
  float share = float(gl_VertexID >> 1);
  float side = float(gl_VertexID & 1) * 2.0 - 1.0;
  float near_a = a.w + a.z;
  float near_b = b.w + b.z;
  // What lies before the near plane is cut off here, since the quad's corners would fold over.
  float cut_a = near_a < 0.0 && near_b > 0.0 ? near_a / (near_a - near_b) : 0.0;
  float cut_b = near_b < 0.0 && near_a > 0.0 ? near_b / (near_b - near_a) : 0.0;
  vec4 start = mix(a, b, cut_a);
  vec4 end = mix(b, a, cut_b);
  vec2 along = (end.xy / end.w - start.xy / start.w) * picture;
  float length_px = length(along);
  vec2 unit_along = length_px > 1e-6 ? along / length_px : vec2(1.0, 0.0);
  vec2 normal = vec2(-unit_along.y, unit_along.x);
  half_width = 0.5 * max(width * pixel_ratio, 1.0);
  across = side * (half_width + 1.0);
  vec4 place = mix(start, end, share);
  place.xy += normal * across * 2.0 / picture * place.w;
  ink = mix(colour_from, colour_to, share);
  ink.a *= min(width * pixel_ratio, 1.0);
  gl_Position = near_a < 0.0 && near_b < 0.0 ? vec4(2.0, 2.0, 2.0, 1.0) : place;
}
