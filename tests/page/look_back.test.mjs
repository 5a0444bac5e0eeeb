// A look back on the real page: the page for the screen shows its eight pictures; eight photos of a hidden dish are brought,
// facets pointed at, the fringes read, and what they show is taken as a round.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { chooseFile, openPage, pictureOf, shelf, startForTests } from '../support/browser.mjs';

const tree = fileURLToPath(new URL('../..', import.meta.url));
const program = process.env.FW_PROGRAM ?? join(tree, 'build/native/facetwright');
const folder = mkdtempSync(join(tmpdir(), 'facetwright-look-back-'));
const shared = startForTests();

const side = 900;
const pxPerM = 420;
const screen = [340, 190];
const hut = JSON.parse(readFileSync(join(tree, 'assets/demos/larch-refuge.dish.json'), 'utf8'));

function runProgram(...words) {
  return execFileSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 26 });
}

// Where each facet's middle is in the photo of a camera 30 m up the axis.
function seen([x, y, z]) {
  const near = 30000 / (30000 - z);
  return [side / 2 + (pxPerM * near * x) / 1000, side / 2 - (pxPerM * near * y) / 1000];
}

// What each facet of a dish shows of the screen whose normals are off by up to 4 mrad, mm.
function shownByHidden() {
  const nominal = JSON.parse(runProgram('preset', join(tree, 'assets/demos/larch-refuge.dish.json'), '--json')).facets;
  const facets = hut.facets.map((facet, k) => {
    const [x, y, z] = nominal[k].normal;
    return { ...facet, normal: [x + 0.004 * Math.sin(5 * k + 1), y + 0.004 * Math.sin(3 * k + 2), z] };
  });
  const path = join(folder, 'hidden.dish.json');
  writeFileSync(path, JSON.stringify({ ...hut, facets }));
  const csv = runProgram('marks', path, '--source', 'camera', '--camera-mm', '0,0,30000', '--board-mm', '0,0,2000', '--without-secondary', '--csv');
  const [head, ...rows] = csv.trim().split('\n').map((line) => line.split(','));
  return new Map(rows.map((row) => [row[head.indexOf('facet')], [Number(row[head.indexOf('right_mm')]), Number(row[head.indexOf('up_mm')])]]));
}

// Eight pictures, each facet a disc of one grey.
async function photograph(shown) {
  const srgb = (light) => Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055));
  const paths = [];
  for (let picture = 0; picture < 8; ++picture) {
    const axis = picture < 4 ? 0 : 1;
    const discs = hut.facets.map((facet, k) => {
      const turns = (0.75 * shown.get(facet.id)[axis]) / screen[axis] + (picture % 4) / 4;
      const grey = srgb((0.3 + 0.08 * (k % 4)) * (0.5 + 0.45 * Math.cos(2 * Math.PI * turns)) + 0.015);
      const [x, y] = seen(facet.centre_mm);
      return `<circle cx="${x}" cy="${y}" r="${0.11 * pxPerM}" fill="rgb(${grey},${grey},${grey})"/>`;
    });
    const html = `<body style="margin:0;background:#1c1c20"><svg width="${side}" height="${side}" style="display:block">${discs.join('')}</svg></body>`;
    paths.push(await pictureOf(shared.browser, html, { width: side, height: side }, join(folder, `fringe ${picture + 1}.png`)));
  }
  return paths;
}

test('the page for the screen shows eight waves of light, and says which only in its title', async () => {
  const path = join(folder, 'fringes.html');
  runProgram('board', '--screen-mm', '340,190', '--out', path);
  const page = await shared.browser.newPage({ viewport: { width: 800, height: 450 } });
  const asked = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(`file://${path}`);
  for (let picture = 0; picture < 8; ++picture) {
    await page.keyboard.press('Space');
    assert.match(await page.title(), new RegExp(`^${picture + 1} of 8: ${picture < 4 ? 'across' : 'up'}, step ${(picture % 4) + 1}$`));
    const codes = await page.evaluate(() => {
      const canvas = document.querySelector('canvas');
      const pen = canvas.getContext('2d');
      const at = (x, y) => pen.getImageData(Math.floor(x * canvas.width), Math.floor(y * canvas.height), 1, 1).data[0];
      return { width: canvas.width, height: canvas.height, codes: [[0.1, 0.5], [0.5, 0.1], [0.9, 0.8], [0.3, 0.3]].map(([x, y]) => [x, y, at(x, y)]) };
    });
    for (const [x, y, code] of codes.codes) {
      // The light of a code by IEC 61966-2-1, and the wave as photo/fringes.h has it.
      const s = code / 255;
      const light = s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
      const share = picture < 4 ? (Math.floor(x * codes.width) + 0.5) / codes.width - 0.5 : 0.5 - (Math.floor(y * codes.height) + 0.5) / codes.height;
      const wanted = 0.5 + 0.45 * Math.cos(2 * Math.PI * (0.75 * share + (picture % 4) / 4));
      assert.ok(Math.abs(light - wanted) < 0.005, `picture ${picture + 1} at ${x}, ${y}: ${light}, not ${wanted}`);
    }
    assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector('main')).display), 'none');
  }
  await page.keyboard.press('Space');
  assert.equal(await page.evaluate(() => document.querySelector('#ended').hidden), false);
  assert.equal(asked.length, 1);
  await page.close();
});

test('a look back at a hidden dish becomes a round', async () => {
  const shown = shownByHidden();
  const opened = await openPage(shared.browser, shared.site.address);
  await chooseFile(opened, await photograph(shown));
  // Eight pictures take the browser a while to decode.
  for (let tenths = 0; tenths < 300 && (await opened.state()).photos.count < 8; ++tenths) await opened.page.waitForTimeout(100);
  assert.equal((await opened.state()).photos.count, 8);
  await opened.click('they show');
  await opened.click('screen fringes');
  await opened.screenshot(join(shelf, 'look-back-before.png'));
  // The canvas fits the square photo into its height.
  const [left, top, width, height] = (await opened.find('photo canvas')).rect;
  const scale = Math.min(width, height) / side;
  for (let k = 0; k < 6; ++k) {
    await opened.scrollTo('point at the next facet', 'bench');
    const items = await opened.items();
    const button = items.find((item) => item.visible && item.label.startsWith('Point at facet '));
    const id = button.label.replace('Point at facet ', '').split('##')[0];
    await opened.click(button.label.split('##')[0]);
    const [x, y] = seen(hut.facets.find((facet) => facet.id === id).centre_mm);
    await opened.page.mouse.click(left + width / 2 + (x - side / 2) * scale, top + height / 2 + (y - side / 2) * scale);
    await opened.settle();
  }
  await opened.screenshot(join(shelf, 'look-back-pointed.png'));
  await opened.pressInBench('Read the fringes');
  await opened.screenshot(join(shelf, 'look-back-read.png'));
  await opened.pressInBench('Take the facets read as a round');
  assert.equal((await opened.state()).spots, 36);
  await opened.screenshot(join(shelf, 'look-back-round.png'));

  const saving = opened.page.waitForEvent('download');
  await opened.press('Control+s');
  const saved = join(folder, 'saved.dish.json');
  await (await saving).saveAs(saved);
  const round = JSON.parse(readFileSync(saved, 'utf8')).rounds.at(-1);
  assert.equal(round.source.light, 'camera');
  let most = 0;
  for (const spot of round.spots) {
    const [right, up] = shown.get(spot.facet);
    most = Math.max(most, Math.hypot(spot.seen_mm[0] - right, spot.seen_mm[1] - up));
  }
  console.log(`places of the screen are read to ${most.toFixed(2)} mm at worst`);
  assert.ok(most < 1, `${most} mm`);
  assert.deepEqual(opened.errors, []);
  await opened.close();
});
