// The stages Form and Light: answers that take seconds come from the workers and are the native program's own; a choice goes
// into the dish and comes out again; rays and shadows are drawn.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
import { openPage, shelf, startForTests } from '../support/browser.mjs';

const tree = fileURLToPath(new URL('../..', import.meta.url));
const program = process.env.FW_PROGRAM ?? join(tree, 'build/native/facetwright');
const demo = join(tree, 'assets/demos/larch-refuge.dish.json');

const shared = startForTests();

// What the native program answers as JSON.
function told(...words) {
  return JSON.parse(execFileSync(program, [...words, '--json'], { encoding: 'utf8', maxBuffer: 1 << 26 }));
}

// Presses a button of the bench, wherever it has to be scrolled to.
async function press(opened, label) {
  await opened.scrollTo(label, 'bench');
  await opened.click(label, { window: 'bench' });
}

async function finished(opened, study) {
  for (let tries = 0; tries < 1200; ++tries) {
    const app = await opened.state();
    const state = app[study].state ?? app[study];
    if (state === 'done') return app;
    assert.notEqual(state, 'failed', `${study} failed`);
    await opened.page.waitForTimeout(100);
  }
  throw new Error(`${study} never ends`);
}

function near(got, wanted, words) {
  assert.ok(Math.abs(got - wanted) <= 1e-6 * Math.abs(wanted) + 1e-6, `${words}: page ${got}, program ${wanted}`);
}

test('the budget is the native program\'s, cause by cause', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('Light');
  await press(opened, 'Work out what each error costs');
  const app = await finished(opened, 'budget');
  for (const cause of told('budget', demo).causes) near(app.budget.gains_W[cause.cause], cause.gain_W, cause.cause);
  await opened.scrollTo('Search', 'bench');
  await opened.screenshot(join(shelf, 'budget.png'));
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test('the forms are the native program\'s, and a choice is one step', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('Form');
  const start = await opened.state();
  await press(opened, 'Work out the forms');
  const app = await finished(opened, 'forms');
  const options = told('form', demo).options;
  assert.equal(app.forms.options_W.length, options.length);
  options.forEach((option, i) => near(app.forms.options_W[i], option.power_receiver_W, option.form));
  await opened.screenshot(join(shelf, 'forms.png'));
  await press(opened, 'all flat');
  await press(opened, 'Form the facets so');
  for (let tries = 0; tries < 600 && (await opened.state()).revision === app.revision; ++tries) await opened.page.waitForTimeout(100);
  const flat = await opened.state();
  assert.ok(flat.light.receiver_W < 0.7 * start.light.receiver_W, 'flat facets bring much less');
  await opened.press('Control+z');
  assert.equal((await opened.state()).forms.state, 'done');
  // One may be the quick evaluation and the other the full trace.
  assert.ok(Math.abs((await opened.state()).light.intercept - start.light.intercept) < 1e-3, 'undo brings the light back');
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test('a search runs with progress, can be stopped, and is asked anew', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('Light');
  await press(opened, 'Search');
  assert.equal((await opened.state()).search, 'running');
  await press(opened, 'Stop working');
  assert.equal((await opened.state()).search, 'cancelled');
  assert.deepEqual(opened.errors, []);
  await opened.close();
});

test('rays and shadows are drawn as asked', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.click('Light');
  await opened.press('i');
  await opened.press('i');
  await opened.click('Shadow');
  for (let tries = 0; tries < 100 && !(await opened.state()).shadows; ++tries) await opened.page.waitForTimeout(100);
  assert.ok((await opened.state()).shadows);
  await opened.settle({ jobs: true });
  await opened.screenshot(join(shelf, 'shadows.png'));
  assert.deepEqual(opened.errors, []);
  await opened.close();
});
