#version 300 es
// Soft light from above and behind the viewer's left; a body without a normal takes none.
precision highp float;

in vec3 facing;
in vec3 at;
flat in vec3 base_colour;

uniform vec3 eye;

out vec4 colour;

void main() {
  float light = 1.0;
  if (dot(facing, facing) > 0.25) {
    vec3 normal = normalize(facing);
    vec3 to_eye = normalize(eye - at);
    if (dot(normal, to_eye) < 0.0) normal = -normal;
    float above = 0.5 + 0.5 * dot(normal, normalize(vec3(-0.35, -0.3, 0.89)));
    light = 0.55 + 0.50 * above + 0.12 * pow(1.0 - clamp(dot(normal, to_eye), 0.0, 1.0), 3.0);
  }
  colour = vec4(base_colour * light, 1.0);
}
