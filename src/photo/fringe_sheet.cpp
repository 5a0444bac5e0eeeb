// Writes the page: the numbers come from fringes.h, the drawing is done where it is shown.
#include "photo/fringe_sheet.h"

#include <fmt/format.h>

#include "base/units.h"

namespace photo {
namespace {

constexpr const char* k_head = R"(<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Fringes for a look back</title>
<style>
html,body{margin:0;height:100%;background:#000;overflow:hidden}
canvas{position:fixed;inset:0;width:100vw;height:100vh;display:none}
main{font:18px/1.5 sans-serif;color:#ddd;max-width:36em;margin:0 auto;padding:2em;height:100%;overflow:auto;box-sizing:border-box}
body.on{cursor:none}body.on canvas{display:block}body.on main{display:none}
</style></head>
<body><canvas></canvas>
)";

constexpr const char* k_script = R"(<script>
'use strict';
const body = document.body;
const canvas = document.querySelector('canvas');
let picture = -1;
function srgb(light) {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * Math.pow(light, 1 / 2.4) - 0.055;
}
// Code of the light at a share of the side, -0.5 to 0.5 from left to right or from below upward.
function codeOf(share, step) {
  const light = mean + swing * Math.cos(2 * Math.PI * (share * waveShown + step / steps));
  return Math.round(255 * srgb(light));
}
function draw() {
  const width = Math.max(1, Math.round(window.innerWidth * devicePixelRatio));
  const height = Math.max(1, Math.round(window.innerHeight * devicePixelRatio));
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext('2d');
  const across = picture < steps;
  const length = across ? width : height;
  for (let k = 0; k < length; ++k) {
    const share = across ? (k + 0.5) / width - 0.5 : 0.5 - (k + 0.5) / height;
    const code = codeOf(share, picture % steps);
    pen.fillStyle = `rgb(${code},${code},${code})`;
    if (across) pen.fillRect(k, 0, 1, height);
    else pen.fillRect(0, k, width, 1);
  }
}
function show(next) {
  picture = Math.min(Math.max(next, -1), 2 * steps);
  const on = picture >= 0 && picture < 2 * steps;
  body.className = on ? 'on' : '';
  document.title = on
    ? `${picture + 1} of ${2 * steps}: ${picture < steps ? 'across' : 'up'}, step ${picture % steps + 1}`
    : 'Fringes for a look back';
  document.querySelector('#ended').hidden = picture < 2 * steps;
  if (on) draw();
}
function forward() {
  if (picture >= 2 * steps) return show(-1);
  if (picture < 0 && body.requestFullscreen) body.requestFullscreen().catch(() => {});
  show(picture + 1);
}
addEventListener('keydown', (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.key === 'ArrowLeft' || event.key === 'Backspace') show(picture - 1);
  else if ([' ', 'Enter', 'ArrowRight'].includes(event.key)) forward();
  else return;
  event.preventDefault();
});
addEventListener('click', forward);
addEventListener('resize', () => { if (body.className) draw(); });
show(-1);
</script></body></html>
)";

std::string screen_words(const Screen& screen) {
  return fmt::format(
      "<main><h1>Fringes for a look back</h1>\n"
      "<p id=\"ended\" hidden><b>All eight have been shown. A tap begins again.</b></p>\n"
      "<p>For a screen whose lit part is {} mm wide and {} mm high. Measure yours: the fringes "
      "must fill all of it, with no bar of the browser in sight.</p>\n"
      "<ol><li>Stand the screen where the receiver is, facing the facets, its top to the dish's "
      "top. Full brightness, no night colours, no dimming, nothing else on it.</li>\n"
      "<li>Put the camera far away near the axis, on a stand; measure where it is. Lock focus and "
      "exposure so that the brightest facet stays well below white.</li>\n"
      "<li>Tap, or press the space bar: the fringes fill the screen. Take one photo, go on, take "
      "the next, eight in all. Arrow left goes back. The window's title says which one is "
      "shown.</li></ol>\n"
      "<p>Never with the sun within 30 degrees of the dish's axis: it would burn the screen and "
      "blind you. Work at dusk or indoors.</p></main>\n",
      base::mm_from_m(screen.width_m), base::mm_from_m(screen.height_m));
}

}  // namespace

std::string fringe_sheet(const Screen& screen) {
  return k_head + screen_words(screen) +
         fmt::format("<script>const steps = {}, mean = {}, swing = {}, waveShown = {};</script>\n",
                     k_fringe_steps, k_fringe_mean, k_fringe_swing, k_wave_shown) +
         k_script;
}

}  // namespace photo
