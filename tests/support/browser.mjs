// A real browser on the built page, for the tests in tests/page. Controls are found by their labels and pressed at their
// places, as a person would.
//   FW_SITE          the built site's folder (default build/web/site)
//   FW_NODE_MODULES  the folder that holds playwright-core (default build/node/node_modules)
//   FW_CHROMIUM      the browser's program
import { createReadStream, existsSync, mkdirSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import { extname, join, normalize } from 'node:path';
import { after, before } from 'node:test';
import { fileURLToPath } from 'node:url';

const tree = fileURLToPath(new URL('../..', import.meta.url));
const site = process.env.FW_SITE ?? join(tree, 'build/web/site');
const modules = process.env.FW_NODE_MODULES ?? join(tree, 'build/node/node_modules');
const types = { '.html': 'text/html', '.css': 'text/css', '.js': 'text/javascript', '.mjs': 'text/javascript', '.wasm': 'application/wasm', '.svg': 'image/svg+xml', '.webmanifest': 'application/manifest+json', '.json': 'application/json' };
const arguments_ = ['--use-angle=swiftshader', '--enable-unsafe-swiftshader', '--disable-background-networking', '--no-first-run', '--disable-dev-shm-usage'];
// The software renderer compiles shaders slowly on a busy machine.
const patience = { timeout: 60_000 };

// Serves the site on a free port of this machine: {address, requests, close}.
export async function serveSite(folder = site) {
  const requests = [];
  const server = createServer((request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url, 'http://localhost').pathname));
    requests.push(path);
    let file = join(folder, path);
    if (existsSync(file) && statSync(file).isDirectory()) file = join(file, 'index.html');
    if (!file.startsWith(folder) || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.writeHead(200, { 'Content-Type': types[extname(file)] ?? 'application/octet-stream', 'Cache-Control': 'no-cache' });
    createReadStream(file).pipe(response);
  });
  await new Promise((resolve) => server.listen(0, '127.0.0.1', resolve));
  return { address: `http://127.0.0.1:${server.address().port}/`, requests, close: () => { server.closeAllConnections?.(); server.close(); } };
}

export async function startBrowser() {
  const { chromium } = createRequire(join(modules, 'x.js'))('playwright-core');
  const places = [process.env.FW_CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];
  const executablePath = places.find((place) => place && existsSync(place));
  if (!executablePath) throw new Error('no Chromium found; FW_CHROMIUM names another place');
  return chromium.launch({ executablePath, args: arguments_ });
}

// Where pictures of the screen go.
export const shelf = join(tree, 'build/screenshots');

// One server and one browser for all tests of a file: {site, browser}, there from the first test on.
export function startForTests() {
  const shared = {};
  mkdirSync(shelf, { recursive: true });
  before(async () => {
    shared.site = await serveSite();
    shared.browser = await startBrowser();
  });
  after(async () => {
    await shared.browser?.close();
    shared.site?.close();
  });
  return shared;
}

// A picture of a page. A busy browser at times has no frame to give for a page it has only just opened; it has one soon.
export async function takePicture(page, path) {
  for (let tries = 1; ; ++tries) {
    try {
      return await page.screenshot({ path });
    } catch (error) {
      if (tries === 10 || !error.message.includes('Unable to capture screenshot')) throw error;
      await page.waitForTimeout(200);
    }
  }
}

// A picture file of what some HTML shows, as a camera's photograph: {width, height} px.
export async function pictureOf(browser, html, { width, height }, path) {
  const page = await browser.newPage({ viewport: { width, height } });
  await page.setContent(html);
  await takePicture(page, path);
  await page.close();
  return path;
}

// Chooses another demo dish from the menu.
export async function openDemo(opened, name) {
  const { app } = await opened.settle();
  await opened.click(`${app.dish}  ▾`);
  await opened.click(name);
}

// Brings a file by the menu and the browser's chooser.
export async function chooseFile(opened, path) {
  const { app } = await opened.settle();
  await opened.click(`${app.dish}  ▾`);
  const choosing = opened.page.waitForEvent('filechooser');
  await opened.click('Open a dish or spots file');
  await (await choosing).setFiles(path);
  await opened.page.waitForTimeout(700);
  return opened.settle();
}

// Opens the page in a context of its own (nothing kept from other tests) and waits until it is drawn.
// `errors` collects whatever the page complains about.
export async function openPage(browser, address, { width = 1366, height = 768, scale = 1, touch = false, query = 'test', hash = '' } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, deviceScaleFactor: scale, hasTouch: touch, acceptDownloads: true });
  const page = await context.newPage();
  const errors = [];
  // Choosers are caught only while somebody listens, and beginning to listen takes a moment: a key could come first.
  page.on('filechooser', () => {});
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (line) => { if (line.type() === 'error') errors.push(line.text()); });
  await page.goto(`${address}?${query}${hash}`);
  const opened = new OpenPage(page, context, errors);
  await opened.ready();
  return opened;
}

export class OpenPage {
  constructor(page, context, errors) {
    this.page = page;
    this.context = context;
    this.errors = errors;
  }

  // Waits for the first frame; a fault shown instead is an error.
  async ready() {
    await this.page.waitForFunction(() => globalThis.facetwright || !document.getElementById('fault').hidden, null, patience);
    const fault = await this.fault();
    if (fault) throw new Error(`the page shows a fault: ${fault}`);
    await this.settle();
  }

  // The sentence of the fault panel, or null.
  fault() {
    return this.page.evaluate(() => (document.getElementById('fault').hidden ? null : document.getElementById('fault-sentence').textContent));
  }

  // {settled, frames, jobs, app: what the App tells}.
  report() {
    return this.page.evaluate(() => JSON.parse(facetwright.program.UTF8ToString(facetwright.program._fw_test_report())));
  }

  async state() { return (await this.report()).app; }

  // Every item of the last frame: {id, rect: [x, y, width, height], visible, flags, window, label}.
  items() {
    return this.page.evaluate(() => JSON.parse(facetwright.program.UTF8ToString(facetwright.program._fw_test_items())));
  }

  // Waits until nothing more is drawn; with `jobs` also until the workers have answered. Returns the report.
  async settle({ jobs = false, timeout = 60_000 } = {}) {
    const end = Date.now() + timeout;
    for (;;) {
      const report = await this.report();
      if (report.settled && (!jobs || report.jobs === 0)) return report;
      if (Date.now() > end) throw new Error(`the page does not settle: ${JSON.stringify(report).slice(0, 300)}`);
      await this.page.waitForTimeout(20);
    }
  }

  // The visible item with a label (its part before "##" counts); with several, the first in `window` if given.
  async find(label, { window = '' } = {}) {
    const items = await this.items();
    const found = items.find((item) => item.visible && item.label.split('##')[0] === label && item.window.includes(window));
    if (!found) throw new Error(`no item "${label}"; there are: ${items.filter((item) => item.visible && item.label).map((item) => item.label).join(', ')}`);
    return found;
  }

  async middle(label, options) {
    const [x, y, width, height] = (await this.find(label, options)).rect;
    return [x + width / 2, y + height / 2];
  }

  async click(label, options) {
    await this.page.mouse.click(...await this.middle(label, options));
    return this.settle();
  }

  async tap(label, options) {
    await this.page.touchscreen.tap(...await this.middle(label, options));
    return this.settle();
  }

  // Turns the wheel over `window` until the item of a label is in sight, as a person looks for it. A bench can be long.
  async scrollTo(label, window) {
    const place = (await this.items()).find((item) => item.label.startsWith(`page/${window}`));
    if (!place) throw new Error(`no window "${window}"`);
    const [x, y, width] = place.rect;
    await this.page.mouse.move(x + width - 4, y + 40);
    await this.settle();
    for (let turns = 0; turns < 240; ++turns) {
      const item = (await this.items()).find((each) => each.label === label);
      if (item?.visible && item.rect[1] > y && item.rect[1] + item.rect[3] < y + place.rect[3]) return;
      await this.page.mouse.wheel(0, item && item.rect[1] <= y ? -60 : 60);
      await this.page.waitForTimeout(30);
      await this.settle();
    }
    throw new Error(`"${label}" never comes into sight in "${window}"`);
  }

  // Looks for a button in the bench, presses it, and waits until the workers have answered.
  async pressInBench(label) {
    await this.scrollTo(label, 'bench');
    await this.click(label);
    return this.settle({ jobs: true });
  }

  // Drags from an item's middle by (right, down) CSS pixels.
  async drag(label, right, down, options) {
    const [x, y] = await this.middle(label, options);
    await this.page.mouse.move(x, y);
    await this.page.mouse.down();
    for (let step = 1; step <= 5; ++step) {
      await this.page.mouse.move(x + (right * step) / 5, y + (down * step) / 5);
      await this.settleQuickly();
    }
    await this.page.mouse.up();
    return this.settle();
  }

  // While a button is held frames go on, so only the input is waited for.
  settleQuickly() { return this.page.waitForTimeout(50); }

  async press(key) {
    await this.page.keyboard.press(key);
    return this.settle();
  }

  async type(text) {
    await this.page.keyboard.type(text);
    return this.settle();
  }

  async loseContext() {
    await this.page.evaluate(() => { globalThis.lostContext = facetwright.canvas.getContext('webgl2').getExtension('WEBGL_lose_context'); globalThis.lostContext.loseContext(); });
    await this.page.waitForTimeout(200);
  }

  async restoreContext() {
    await this.page.evaluate(() => globalThis.lostContext.restoreContext());
    await this.page.waitForTimeout(300);
    return this.settle();
  }

  screenshot(path) { return takePicture(this.page, path); }

  close() { return this.context.close(); }
}
