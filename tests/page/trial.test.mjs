// Before any real turn: the trial of two facets' screws; spots spread on purpose; two people's logs; work after a reload.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { test } from 'node:test';
import { openPage, shelf, startForTests } from '../support/browser.mjs';

const shared = startForTests();

for (const scale of [1, 2]) {
  test(`indoors, a trial finds a hidden fault of the screws and the file is put right, at ${scale}x`, async () => {
    const opened = await openPage(shared.browser, shared.site.address, { scale });
    await opened.scrollTo('hidden fault', 'bench');
    await opened.click('hidden fault');
    await opened.scrollTo('Begin a practice', 'bench');
    await opened.click('Begin a practice');
    const begun = (await opened.state()).trial;
    assert.equal(begun.looks, 1);
    await opened.press('Home');
    for (let turn = 0; turn < 3; ++turn) {
      await opened.scrollTo('Turned: the next look', 'bench');
      if (turn === 1) await opened.screenshot(join(shelf, `trial-${scale}x.png`));
      await opened.click('Turned: the next look');
    }
    const { trial } = await opened.state();
    assert.equal(trial.looks, 4);
    assert.ok(trial.sure, trial.says);
    await opened.page.waitForTimeout(900);
    await opened.settle();
    await opened.screenshot(join(shelf, `trial-verdict-${scale}x.png`));
    await opened.scrollTo('The file is wrong: put it right', 'bench');
    await opened.click('The file is wrong: put it right');
    const { trial: after } = await opened.state();
    assert.ok(!after.sure && after.says.includes('as the file says'), after.says);
    await opened.screenshot(join(shelf, `trial-corrected-${scale}x.png`));
    assert.deepEqual(opened.errors, []);
    await opened.close();
  });
}

test('spots are spread on purpose, facet by facet', async () => {
  const opened = await openPage(shared.browser, shared.site.address);
  await opened.scrollTo('Spread the spots on purpose', 'bench');
  await opened.click('Spread the spots on purpose');
  await opened.settle();
  await opened.screenshot(join(shelf, 'spread.png'));
  await opened.press('o');
  const { on_site: work } = await opened.state();
  assert.ok(work.shown && work.all > 30, JSON.stringify(work));
  await opened.press('d');
  assert.equal((await opened.state()).on_site.done, 1);
  await opened.press('s');
  const left = (await opened.state()).on_site;
  await opened.screenshot(join(shelf, 'spread-on-site.png'));
  // The laptop goes to sleep on the ladder: the page that comes back is at the same facet.
  await opened.page.waitForTimeout(1500);
  await opened.page.reload();
  await opened.ready();
  assert.deepEqual((await opened.state()).on_site, left);
  await opened.press('Escape');
  await opened.scrollTo('I made these turns', 'bench');
  await opened.click('I made these turns');
  await opened.settle();
  await opened.screenshot(join(shelf, 'spread-turned.png'));
  assert.deepEqual(opened.errors, []);
  await opened.close();
});
