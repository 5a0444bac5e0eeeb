// Opens the page: storage, program, graphics context, input, first frame. Each part lives in a module of its own and
// reaches the others through `host`.
import create from '../app.mjs';
import { makeClipboard } from './clipboard.mjs';
import { makeFault } from './fault.mjs';
import { makeFiles } from './files.mjs';
import { makeFrames } from './frames.mjs';
import { listenToKeys } from './keyboard.mjs';
import { makeLink } from './link.mjs';
import { passBytes } from './memory.mjs';
import { makeOffline } from './offline-client.mjs';
import { listenToPointer } from './pointer.mjs';
import { makePrinter } from './printer.mjs';
import { followSize } from './resize.mjs';
import { openStorage } from './storage.mjs';
import { makeText } from './text.mjs';
import { makePool } from './worker-pool.mjs';

const canvas = document.getElementById('canvas');
const query = new URLSearchParams(location.search);
const cursors = ['default', 'text', 'move', 'ns-resize', 'ew-resize', 'nesw-resize', 'nwse-resize', 'pointer', 'not-allowed'];

const host = { canvas, program: null };
host.fault = makeFault(host);
host.frames = makeFrames(host);
host.clipboard = makeClipboard(host);
host.text = makeText(host);
host.files = makeFiles(host);
host.link = makeLink(host);
host.offline = makeOffline(host);
host.printer = makePrinter();
host.pool = makePool(host);
host.setCursor = (cursor) => { canvas.style.cursor = cursor < 0 ? 'none' : cursors[cursor] ?? 'default'; };
host.setBackdrop = (red, green, blue) => {
  document.documentElement.style.backgroundColor = document.body.style.backgroundColor = `rgb(${red}, ${green}, ${blue})`;
};

// Loses the context for real in tests; elsewhere it happens by itself when a machine sleeps or its driver restarts.
function watchContext() {
  canvas.addEventListener('webglcontextlost', (event) => {
    event.preventDefault();
    host.frames.pause();
    host.program._fw_context_lost();
  });
  canvas.addEventListener('webglcontextrestored', () => {
    host.program._fw_context_restored();
    host.frames.resume();
  });
}

async function open() {
  host.storage = await openStorage(host);
  let lastWords = '';
  host.program = await create({
    host,
    canvas,
    print: (line) => console.log(line),
    // The line before an abort says why; the abort's own lines do not.
    printErr: (line) => { if (line && !line.startsWith('Aborted')) lastWords = line; if (line) console.error(line); },
    onAbort: () => host.fault(lastWords || 'the program gave up without a word'),
  });
  if (!host.program._fw_make_context(query.get('msaa') === '1' ? 1 : 0)) {
    host.fault('This browser offers no WebGL 2, which draws the page. A current browser with graphics acceleration allowed has it.');
    return;
  }
  for (const [key, bytes] of host.storage.restored)
    passBytes(host.program, bytes, (at, length) => host.program.ccall('fw_restored', null, ['string', 'number', 'number'], [key, at, length]));
  watchContext();
  followSize(host);
  await host.link.read();
  host.program._fw_start();
  if (host.frames.stopped()) return;
  if (query.has('test')) host.program._fw_test_watch_items(1);
  listenToPointer(host);
  listenToKeys(host);
  host.text.listen();
  host.clipboard.listen();
  host.files.listen();
  host.frames.now();
  document.getElementById('opening').hidden = true;
  canvas.focus({ preventScroll: true });
  host.offline.register();
  // For tests and for a curious person's console.
  globalThis.facetwright = host;
}

open().catch((error) => host.fault(error?.message ?? String(error)));
