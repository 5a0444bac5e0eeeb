#version 300 es
// A soft edge of one pixel, so that lines need no multisampling.
precision highp float;

in vec4 ink;
in float across;
flat in float half_width;

out vec4 colour;

void main() {
  float cover = clamp(half_width + 0.5 - abs(across), 0.0, 1.0);
  colour = vec4(ink.rgb, ink.a * cover);
}
