// A film of the board on the real page: somebody carries a plank past the dish, twice, and when each spot goes out tells whose
// it is, though the spots lie where no single photo could name them.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { chooseFile, openPage, shelf, startForTests } from '../support/browser.mjs';
import { folder, hiddenDish, photograph, spotsOn } from '../support/hidden_dish.mjs';

const shared = startForTests();
const frames = 20; // of each crossing
const hole_mm = 40;
const ways = [10.9, 100.9]; // degrees, as the page proposes

// The plank starts beside the dish, gathers speed, and ends behind it.
function plank_mm(frame) {
  const u = (frame + 1) / frames;
  return -1000 + 2000 * (0.8 * u + 0.2 * u * u);
}

// Among many photos, as a person turns the wheel over the list.
async function choosePhoto(opened, name) {
  await opened.scrollTo('photo', 'bench');
  await opened.click('photo');
  for (let turns = 0; turns < 80; ++turns) {
    const listed = (await opened.items()).filter((item) => item.visible && /^frame \d+\.png/.test(item.label) && item.window.includes('Combo'));
    if (listed.some((item) => item.label.split('##')[0] === name)) return opened.click(name, { window: 'Combo' });
    const [x, y, width, height] = listed[listed.length >> 1].rect;
    await opened.page.mouse.move(x + width / 2, y + height / 2);
    await opened.page.mouse.wheel(0, Number(listed[0].label.match(/\d+/)[0]) > Number(name.match(/\d+/)[0]) ? -60 : 60);
    await opened.page.waitForTimeout(30);
    await opened.settle();
  }
  throw new Error(`"${name}" is not in the list`);
}

test('a film of two crossings names the spots of facets that stand far off', async () => {
  const hidden = hiddenDish(1.2);
  const opened = await openPage(shared.browser, shared.site.address);
  // The board's size and place come with the first photo.
  await chooseFile(opened, await photograph(shared.browser, { width: 600, height: 600, spots: [], name: 'board.png', scale: 0.5 }));
  const { photos } = await opened.state();
  await opened.pressInBench('Put this photo away');
  const spots = spotsOn(hidden, 1000 * hidden.focal_length_m - photos.before_focus_mm);
  const [width, height] = photos.board_mm;
  const film = [];
  const shoot = async (left) => film.push(await photograph(shared.browser, { width, height, spots: spots.map(([right, up], k) => [right, up, left(hidden.facets[k])]), name: `frame ${film.length + 1}.png`, scale: 0.5 }));
  await shoot(() => 1);
  for (const way of ways) {
    const [x, y] = [Math.cos((way * Math.PI) / 180), Math.sin((way * Math.PI) / 180)];
    for (let frame = 0; frame < frames; ++frame) {
      await shoot(({ centre_mm }) => Math.min(1, Math.max(0, 0.5 + (x * centre_mm[0] + y * centre_mm[1] - plank_mm(frame)) / hole_mm)));
    }
  }
  await chooseFile(opened, film);
  for (let tenths = 0; tenths < 600 && (await opened.state()).photos.count < film.length; ++tenths) await opened.page.waitForTimeout(100);
  assert.equal((await opened.state()).photos.count, film.length);
  await opened.click('they show');
  await opened.click('edge crossing');
  await opened.screenshot(join(shelf, 'film-before.png'));
  await choosePhoto(opened, `frame ${frames + 2}.png`);
  await opened.pressInBench('The second crossing begins here');
  await opened.pressInBench('Find the spots');
  await choosePhoto(opened, 'frame 1.png');
  await opened.screenshot(join(shelf, 'film-read.png'));
  const read = (await opened.state()).photos;
  // Two spots in one, and spots under others, are named for a check.
  assert.ok(read.spots >= hidden.facets.length - 2, `${read.spots} spots`);
  assert.ok(read.sure >= hidden.facets.length - 7, `${read.sure} are sure`);
  await opened.pressInBench('Take the sure spots as a round');
  await opened.screenshot(join(shelf, 'film-taken-as-round.png'));

  // Whose spot is whose, by the hidden dish; without the film, neighbours are taken for each other.
  const saving = opened.page.waitForEvent('download');
  await opened.press('Control+s');
  const saved = join(folder, 'filmed.dish.json');
  await (await saving).saveAs(saved);
  const round = JSON.parse(readFileSync(saved, 'utf8')).rounds.at(-1);
  assert.equal(round.spots.length, read.sure);
  for (const spot of round.spots) {
    const [right, up] = spots[hidden.facets.findIndex((facet) => facet.id === spot.facet)];
    const off = Math.hypot(spot.seen_mm[0] - right, spot.seen_mm[1] - up);
    assert.ok(off < 3, `the spot of ${spot.facet} is ${off.toFixed(1)} mm from where it should be`);
  }
  assert.deepEqual(opened.errors, []);
  await opened.close();
});
