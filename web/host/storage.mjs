// What the page keeps on this machine. The database is written a second after the last change; when the page is left,
// a copy goes to the small storage, which alone can be written in time. The newer of the two counts.
const databaseName = 'facetwright';
const tableName = 'kept';
const leavingPrefix = 'facetwright:leaving:';
const pauseMs = 1000;
const asideSuffix = ' (set aside)';

const promised = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

function openDatabase() {
  const request = indexedDB.open(databaseName, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(tableName);
  return promised(request);
}

const toText = (bytes) => {
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
};
const fromText = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));

async function readDatabase(database) {
  const table = database.transaction(tableName).objectStore(tableName);
  const [keys, values] = await Promise.all([promised(table.getAllKeys()), promised(table.getAll())]);
  return new Map(keys.map((key, index) => [key, values[index]]));
}

function readLeavingCopies() {
  const copies = new Map();
  for (const name of Object.keys(localStorage)) {
    if (!name.startsWith(leavingPrefix)) continue;
    try {
      const { time, bytes } = JSON.parse(localStorage.getItem(name));
      copies.set(name.slice(leavingPrefix.length), { time, bytes: fromText(bytes) });
    } catch {
      localStorage.removeItem(name); // half a copy is no copy
    }
  }
  return copies;
}

export async function openStorage(host) {
  const items = new Map(); // key → {time, bytes}
  const unsaved = new Set();
  let database = null;
  let timer = 0;

  const complain = (error) => {
    const sentence = error?.name === 'QuotaExceededError'
      ? 'This browser has no room left to keep your work; save it as a file.'
      : `This browser does not let the page keep your work (${error?.message ?? error}); save it as a file.`;
    host.program?.ccall('fw_storage_trouble', null, ['string'], [sentence]);
  };

  try {
    database = await openDatabase();
    for (const [key, item] of await readDatabase(database)) items.set(key, item);
  } catch (error) {
    console.warn(`no database: ${error?.message}`);
  }
  try {
    for (const [key, copy] of readLeavingCopies())
      if (!items.has(key) || items.get(key).time < copy.time) { items.set(key, copy); unsaved.add(key); }
  } catch (error) {
    console.warn(`no small storage: ${error?.message}`);
  }

  async function writeNow() {
    clearTimeout(timer);
    timer = 0;
    if (!database || unsaved.size === 0) return;
    const keys = [...unsaved];
    unsaved.clear();
    try {
      const transaction = database.transaction(tableName, 'readwrite');
      const table = transaction.objectStore(tableName);
      for (const key of keys) items.has(key) ? table.put(items.get(key), key) : table.delete(key);
      await new Promise((resolve, reject) => { transaction.oncomplete = resolve; transaction.onabort = () => reject(transaction.error); });
      for (const key of keys) if (!unsaved.has(key)) localStorage.removeItem(leavingPrefix + key);
    } catch (error) {
      for (const key of keys) unsaved.add(key);
      complain(error);
    }
  }

  // Everything that the database does not have yet, at once.
  function flush() {
    for (const key of unsaved) {
      const item = items.get(key);
      try {
        if (item) localStorage.setItem(leavingPrefix + key, JSON.stringify({ time: item.time, bytes: toText(item.bytes) }));
      } catch (error) {
        complain(error);
      }
    }
    writeNow();
  }

  addEventListener('pagehide', flush);
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden') flush(); });
  const restored = [...items].filter(([key]) => !key.endsWith(asideSuffix)).map(([key, item]) => [key, item.bytes]);
  if (unsaved.size) writeNow();

  return {
    restored,
    flush,
    items: () => [...items].map(([key, item]) => [key, item.bytes]),
    hasWork: () => items.size > 0,
    store(key, bytes) {
      items.set(key, { time: Date.now(), bytes });
      unsaved.add(key);
      if (database) timer ||= setTimeout(writeNow, pauseMs);
      else flush();
    },
    // What may have caused a fault is kept, but not opened again.
    async setAside() {
      for (const [key, item] of [...items]) {
        if (key.endsWith(asideSuffix)) continue;
        items.set(key + asideSuffix, item);
        items.delete(key);
        localStorage.removeItem(leavingPrefix + key);
        unsaved.add(key).add(key + asideSuffix);
      }
      await writeNow();
      unsaved.clear();
    },
  };
}
