// At the dish: one facet at a time, by thumb and by key; and the simulated practice.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { openPage, shelf, startForTests } from '../support/browser.mjs';


const shared = startForTests();

for (const scale of [1, 2]) {
  test(`a thumb works through the facets at ${scale}x`, async () => {
    const opened = await openPage(shared.browser, shared.site.address, { scale, touch: true });
    await opened.press('o');
    const start = (await opened.state()).on_site;
    assert.ok(start.shown && start.all > 20);
    await opened.screenshot(join(shelf, `on-site-${scale}x.png`));
    await opened.tap('Done  D');
    const second = (await opened.state()).on_site;
    assert.equal(second.done, 1);
    assert.notEqual(second.hand, start.hand);
    await opened.tap('Skip  S');
    await opened.tap('Again  A');
    assert.equal((await opened.state()).on_site.done, 1);
    const slip = (await opened.items()).find((item) => item.visible && item.label.startsWith('I turned screw'));
    assert.ok(slip, 'what was done can be put right');
    const before_ = (await opened.state()).revision;
    await opened.tap(slip.label);
    assert.notEqual((await opened.state()).revision, before_);
    await opened.press('t');
    await opened.screenshot(join(shelf, `on-site-noon-${scale}x.png`));
    await opened.press('Escape');
    assert.equal((await opened.state()).on_site.shown, false);
    assert.deepEqual(opened.errors, []);
    await opened.close();
  });
}

test('a practice is found, turned and told', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.scrollTo('Begin a practice', 'bench');
  await opened.click('Begin a practice');
  const begun = await opened.state();
  assert.equal(begun.practice.looks, 1);
  for (let round = 0; round < 3; ++round) {
    await opened.press('d');
    await opened.page.waitForTimeout(1200);  // at rest the story of the rounds comes in, and the bench grows
    await opened.scrollTo('Look at the practice dish', 'bench');
    await opened.click('Look at the practice dish');
  }
  await opened.scrollTo('Tell what is left', 'bench');
  await opened.click('Tell what is left');
  await opened.settle({ jobs: true });
  const { practice } = await opened.state();
  assert.equal(practice.looks, 4);
  // Three rounds of spots read to 2 mm and turns to a twelfth end near 1 mrad.
  assert.ok(practice.left_mrad < 0.35 * practice.start_mrad, JSON.stringify(practice));
  await opened.screenshot(join(shelf, 'practice.png'));
  await opened.close();
});
