// The main job on the real page, with mouse and keyboard: open a demo, pick a facet in the picture, type where its spot
// was seen, read the turns, compare them with the native program's, save, and open the saved file again.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { chooseFile, openDemo, openPage, shelf, startForTests } from '../support/browser.mjs';

const tree = fileURLToPath(new URL('../..', import.meta.url));
const program = process.env.FW_PROGRAM ?? join(tree, 'build/native/facetwright');

const shared = startForTests();

// Types a number into a field of the spots table, as a person does: click, select all, type, Enter.
async function typeSpot(opened, field, text) {
  await opened.click(field);
  await opened.press('Control+a');
  await opened.type(text);
  await opened.press('Enter');
}

// Turns that the native program tells for the round that stands in a saved dish.
function turnsOfProgram(dishFile, facet, round) {
  const answer = JSON.parse(execFileSync(program, ['align', dishFile, '--round', round, '--json'], { encoding: 'utf8', maxBuffer: 1 << 26 }));
  const told = answer.facets.find((each) => each.id === facet);
  assert.ok(told, `the program tells turns for facet ${facet}`);
  return Object.fromEntries(told.screws.map((screw) => [screw.label, screw.turns]));
}

// The state once the full trace of the dish as it stands has caught up.
async function traced(opened) {
  for (let tries = 0; tries < 600; ++tries) {
    const { app } = await opened.settle({ jobs: true });
    if (app.light.full) return app;
    await opened.page.waitForTimeout(100);
  }
  throw new Error('the full trace never catches up');
}

async function saveDish(opened, path) {
  const waiting = opened.page.waitForEvent('download');
  await opened.page.keyboard.press('Control+s');
  const download = await waiting;
  await download.saveAs(path);
  await opened.settle();
  return JSON.parse(readFileSync(path, 'utf8'));
}

test('a typed spot becomes the turns that the native program tells, and survives a saved file', async () => {
  assert.ok(existsSync(program), `the native program is built at ${program}`);
  const opened = await openPage(shared.browser, shared.site.address);
  await openDemo(opened, 'Larch Refuge');
  await opened.click('Align');
  assert.equal((await opened.state()).stage, 'align');

  await opened.click('facet B4');
  assert.equal((await opened.state()).selected, 'B4');

  const before_ = (await opened.state()).turns;
  await opened.scrollTo('right B4', 'bench');
  await typeSpot(opened, 'right B4', '12.5');
  await typeSpot(opened, 'up B4', '-7.25');
  const after_ = await opened.state();
  assert.equal(after_.selected, 'B4');
  assert.notDeepEqual(after_.turns, before_, 'the typed spot changes the turns');

  const path = join(shelf, 'saved.dish.json');
  const saved = await saveDish(opened, path);
  const round = saved.rounds[after_.round];
  const spot = round.spots.find((each) => each.facet === 'B4');
  assert.deepEqual(spot.seen_mm, [12.5, -7.25]);

  const told = turnsOfProgram(path, 'B4', round.name);
  for (const [label, turns] of Object.entries(told)) {
    assert.ok(Math.abs(after_.turns[label] - turns) < 1e-6, `screw ${label}: page ${after_.turns[label]}, program ${turns}`);
  }

  assert.deepEqual(opened.errors, []);
  await opened.close();

  // Another browser profile knows nothing but the file.
  const other = await openPage(shared.browser, shared.site.address);
  await openDemo(other, 'Kiln Yard');
  assert.equal((await other.state()).dish, 'Kiln Yard');
  await chooseFile(other, path);
  assert.equal((await other.state()).dish, 'Larch Refuge');
  await other.click('Align');
  await other.click('facet B4');
  assert.deepEqual((await other.state()).turns, after_.turns, 'the reopened file tells the same turns');
  assert.deepEqual(await saveDish(other, join(shelf, 'saved-again.dish.json')), saved);
  assert.deepEqual(other.errors, []);
  await other.close();
});

test('dragging a screw moves its spot and is one step to undo', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('facet B4');
  const start = await traced(opened);
  await opened.drag('dial A', 40, 30);
  const turned = await traced(opened);
  assert.ok(turned.revision > start.revision);
  assert.notDeepEqual(turned.light.centroid_mm, start.light.centroid_mm, 'the light follows the screw');
  await opened.press('Control+z');
  assert.deepEqual((await traced(opened)).light, start.light, 'one undo brings the light back');
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test('a broken file is refused in words and the open dish stays', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  const start = await opened.state();
  const path = join(shelf, 'broken.dish.json');
  writeFileSync(path, '{"format": "facetwright dish", "version": 1, "name": "Cut short", "focal_length_m": ');
  const choosing = opened.page.waitForEvent('filechooser');
  await opened.page.keyboard.press('Control+o');
  await (await choosing).setFiles(path);
  await opened.page.waitForTimeout(500);
  const { app } = await opened.settle();
  assert.equal(app.notices, start.notices + 1);
  assert.equal(app.dish, start.dish);
  assert.equal(app.revision, start.revision);
  await opened.click('Understood');
  assert.equal((await opened.state()).notices, start.notices);
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test('work is kept in the browser and comes back', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('facet B4');
  await opened.drag('dial B', 30, 40);
  const left = await traced(opened);
  await opened.page.waitForTimeout(1500);
  await opened.page.reload();
  await opened.ready();
  const back = await traced(opened);
  assert.equal(back.dish, left.dish);
  assert.deepEqual(back.light, left.light, 'the same dish throws the same light');
  await opened.close();
});

test('after it has loaded, the page asks the network for nothing', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.settle({ jobs: true });
  // Loading ends when the copy for offline use is whole.
  await opened.page.evaluate(() => navigator.serviceWorker.ready);
  const asked = shared.site.requests.length;
  await openDemo(opened, 'Orchard Dryer');
  await opened.click('Light');
  await traced(opened);
  assert.deepEqual(shared.site.requests.slice(asked), []);
  await opened.close();
});

test('no frame is drawn while nothing changes', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.settle({ jobs: true });
  await opened.page.waitForTimeout(3000);
  const { frames } = await opened.report();
  await opened.page.waitForTimeout(2000);
  assert.equal((await opened.report()).frames, frames);
  await opened.close();
});

for (const scale of [1, 2]) {
  test(`every stage has its picture at ${scale}x`, async () => {
    const opened = await openPage(shared.browser, shared.site.address, { scale });
    for (const demo of ['Larch Refuge', 'Kiln Yard', 'Orchard Dryer']) {
      await openDemo(opened, demo);
      for (const stage of ['Lay out', 'Form', 'Mount', 'Light', 'Align']) {
        await opened.click(stage);
        await opened.settle({ jobs: true });
        const name = `${demo} ${stage} ${scale}x`.toLowerCase().replaceAll(' ', '-');
        await opened.screenshot(join(shelf, `${name}.png`));
      }
    }
    assert.deepEqual(opened.errors, []);
    await opened.close();
  });
}

test('where a table ends, the wheel goes on with the bench', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  const table = (await opened.items()).find((item) => item.label.includes('/turns_'));
  assert.ok(table, 'the table of turns is on the bench');
  await opened.page.mouse.move(table.rect[0] + 0.5 * table.rect[2], table.rect[1] + 0.5 * table.rect[3]);
  const inSight = async () => (await opened.items()).some((item) => item.visible && item.label === 'Take the last back');
  assert.equal(await inSight(), false);
  for (let turn = 0; turn < 60 && !(await inSight()); ++turn) {
    await opened.page.mouse.wheel(0, 120);
    await opened.page.waitForTimeout(40);
    await opened.settle();
  }
  assert.ok(await inSight(), 'the wheel brings what lies below the table');
  await opened.close();
});
