// A dish whose screws stand where the page does not know, and photographs of the board its light falls on.
//   FW_PROGRAM  the native program (default build/native/facetwright)
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { pictureOf } from './browser.mjs';

const tree = fileURLToPath(new URL('../..', import.meta.url));
const program = process.env.FW_PROGRAM ?? join(tree, 'build/native/facetwright');

// For the files of a test.
export const folder = mkdtempSync(join(tmpdir(), 'facetwright-photo-'));

// A linear congruential generator (Numerical Recipes' constants): the same hidden dish every time.
function makeRandom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

// Larch Refuge with every screw displaced by up to `most` mm, unknown to the page.
export function hiddenDish(most) {
  const dish = JSON.parse(readFileSync(join(tree, 'assets/demos/larch-refuge.dish.json'), 'utf8'));
  const random = makeRandom(7);
  for (const facet of dish.facets) facet.displacement_mm = [0, 0, 0].map(() => Math.round(2000 * most * (random() - 0.5)) / 1000);
  return dish;
}

// The dish as the facets stand, each with its normal said, so that another receiver does not cant them anew.
let normals;
function normalsOf(dish) {
  const path = join(folder, 'nominal.dish.json');
  writeFileSync(path, JSON.stringify(dish));
  normals ??= JSON.parse(execFileSync(program, ['preset', path, '--json'], { encoding: 'utf8', maxBuffer: 1 << 26 })).facets.map((facet) => facet.normal);
  return normals;
}

// Where each facet's light lands on a board at z mm above the vertex, the secondary and all that shades taken off.
export function spotsOn(dish, z) {
  const facets = dish.facets.map((facet, k) => ({ ...facet, normal: normalsOf(dish)[k] }));
  const seen = { ...dish, facets, rounds: [], blockers: [], receiver: { shape: 'disc', diameter_mm: 900, centre_mm: [0, 0, z], lit_normal: [0, 0, -1], up: [0, 1, 0], absorptance: 1, shades: false } };
  delete seen.secondary;
  const path = join(folder, 'seen.dish.json');
  writeFileSync(path, JSON.stringify(seen));
  const reply = JSON.parse(execFileSync(program, ['trace', path, '--rays', '400000', '--json'], { encoding: 'utf8', maxBuffer: 1 << 26 }));
  return reply.facets.map((facet) => facet.centroid_mm);
}

// Root mean square distance from the aim at the focus, mm.
export function miss(dish) {
  const squares = spotsOn(dish, 1000 * dish.focal_length_m).map(([right, up]) => right * right + up * up);
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
}

// The board (mm) with its marks and spots, as a picture of a camera that stands a little to one side. Each spot has [right, up,
// share of its light]. Circles of the marks as src/photo/board_marks has them; at scale 1 the picture has 1500 x 1150 pixels.
export async function photograph(browser, { width, height, spots, name, scale = 1 }) {
  const mark = Math.min(80, Math.max(12, Math.floor(Math.min(width, height) / 14)));
  const x = width / 2 - 0.75 * mark;
  const y = height / 2 - 0.75 * mark;
  const kinds = { target: [1, 0.78, 0.56, 0.28], ring: [1, 0.6], eye: [1, 0.7, 0.4] };
  const marks = [['target', -x, y], ['eye', 0, y], ['ring', x, y], ['eye', x, 0], ['eye', x, -y], ['eye', 0, -y], ['eye', -x, -y], ['eye', -x, 0]];
  const circles = marks.flatMap(([kind, right, up]) => kinds[kind].map((share, k) => `<circle cx="${right}" cy="${-up}" r="${0.5 * share * mark}" fill="${k % 2 ? '#6a6a6a' : '#060606'}"/>`));
  const lights = spots.map(([right, up, share = 1]) => `<circle cx="${right}" cy="${-up}" r="11.5" fill="url(#spot)" opacity="${share ** (1 / 2.2)}"/>`);
  const pxPerMm = (900 * scale) / Math.max(width, height);
  const html = `<body style="margin:0;background:#101012;display:grid;place-items:center;height:${1150 * scale}px">
    <svg viewBox="${-width / 2} ${-height / 2} ${width} ${height}" width="${pxPerMm * width}" height="${pxPerMm * height}"
      style="background:#6a6a6a;transform:perspective(${3200 * scale}px) rotateY(-14deg) rotateX(9deg) rotate(3deg)">
      <defs><radialGradient id="spot"><stop offset="0" stop-color="#e8e8e8"/><stop offset="0.75" stop-color="#dadada"/><stop offset="1" stop-color="#dadada" stop-opacity="0"/></radialGradient></defs>
      ${circles.join('')}${lights.join('')}</svg></body>`;
  return pictureOf(browser, html, { width: 1500 * scale, height: 1150 * scale }, join(folder, name));
}
