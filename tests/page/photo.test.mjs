// One photograph for all facets, on the real page: a board stands inside the focus of a dish whose screws are displaced by
// amounts the page does not know; its picture is drawn by the browser; the page finds the spots, names them, tells turns;
// made at the hidden dish, they bring its facets home.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { chooseFile, openPage, pictureOf, shelf, startForTests } from '../support/browser.mjs';
import { folder, hiddenDish, miss, photograph, spotsOn } from '../support/hidden_dish.mjs';

const shared = startForTests();

test('one photo of the board brings all facets of a hidden dish home', async () => {
  const hidden = hiddenDish(0.3);
  const opened = await openPage(shared.browser, shared.site.address);
  // A photo of the wrong thing first: it is answered in words, and put away.
  await chooseFile(opened, await pictureOf(shared.browser, '<body style="background:linear-gradient(90deg,#345,#987)">', { width: 300, height: 200 }, join(folder, 'wrong.png')));
  const { photos } = await opened.state();
  assert.equal(photos.count, 1);
  await opened.pressInBench('Find the spots');
  assert.equal((await opened.state()).photos.sure, 0);
  await opened.screenshot(join(shelf, 'photo-of-the-wrong-thing.png'));
  await opened.click('Understood');
  await opened.pressInBench('Put this photo away');

  const [width, height] = photos.board_mm;
  const z = 1000 * hidden.focal_length_m - photos.before_focus_mm;
  const path = await photograph(shared.browser, { width, height, spots: spotsOn(hidden, z), name: 'board.png' });
  await chooseFile(opened, path);
  await opened.pressInBench('Find the spots');
  const found = (await opened.state()).photos;
  await opened.screenshot(join(shelf, 'photo-with-names.png'));
  assert.equal(found.spots, hidden.facets.length);
  assert.equal(found.sure, hidden.facets.length);
  await opened.pressInBench('Take the sure spots as a round');
  assert.equal((await opened.state()).spots, hidden.facets.length);
  await opened.screenshot(join(shelf, 'photo-taken-as-round.png'));

  // The told turns are made, at the page's dish and at the hidden one.
  await opened.press('d');
  const saving = opened.page.waitForEvent('download');
  await opened.press('Control+s');
  const saved = join(folder, 'saved.dish.json');
  await (await saving).saveAs(saved);
  const round = JSON.parse(readFileSync(saved, 'utf8')).rounds.at(-1);
  const before_mm = miss(hidden);
  for (const { facet, screw, turns } of round.turned) {
    const of = hidden.facets.find((each) => each.id === facet);
    const adjusters = hidden.mounts[of.mount].adjusters;
    const k = adjusters.findIndex((each) => each.label === screw);
    of.displacement_mm[k] += turns * adjusters[k].pitch_mm;
  }
  const after_mm = miss(hidden);
  // Spots are read to some tenths of a mm; whole clicks leave about 0.3 mrad, 1.2 mm at the focus.
  console.log(`spots missed the aim by ${before_mm.toFixed(2)} mm rms before and ${after_mm.toFixed(2)} mm after`);
  assert.ok(before_mm > 6);
  assert.ok(after_mm < 2.5, `${after_mm} mm`);
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test("a spot's name goes where it is dragged", async () => {
  const hidden = hiddenDish(0.2);
  const opened = await openPage(shared.browser, shared.site.address);
  await chooseFile(opened, await pictureOf(shared.browser, '<body>', { width: 200, height: 200 }, join(folder, 'first.png')));
  const { photos } = await opened.state();
  await opened.pressInBench('Put this photo away');
  const spots = spotsOn(hidden, 1000 * hidden.focal_length_m - photos.before_focus_mm);
  const [width, height] = photos.board_mm;
  await chooseFile(opened, await photograph(shared.browser, { width, height, spots, name: 'again.png' }));
  await opened.pressInBench('Find the spots');
  const [ax, ay] = await opened.middle('spot of A1');
  const [bx, by] = await opened.middle('spot of A2');
  await opened.page.mouse.move(ax, ay);
  await opened.page.mouse.down();
  await opened.page.mouse.move((ax + bx) / 2, (ay + by) / 2);
  await opened.settleQuickly();
  await opened.page.mouse.move(bx, by);
  await opened.settleQuickly();
  await opened.page.mouse.up();
  await opened.settle();
  assert.deepEqual((await opened.middle('spot of A1')).map(Math.round), [bx, by].map(Math.round));
  assert.deepEqual((await opened.middle('spot of A2')).map(Math.round), [ax, ay].map(Math.round));
  await opened.close();
});
