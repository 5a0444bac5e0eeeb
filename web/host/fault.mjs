// One sentence instead of a dead page: drawing stops, what was kept stays kept, and the person chooses what to do next.
export function makeFault(host) {
  let shown = false;
  return function fault(sentence) {
    console.error(sentence);
    host.frames?.stop();
    if (shown) return;
    shown = true;
    const storage = host.storage;
    storage?.flush();
    document.getElementById('opening').hidden = true;
    document.getElementById('fault-sentence').textContent = `The reason: ${sentence}`;
    document.getElementById('fault-kept').hidden = !storage?.hasWork();
    document.getElementById('fault-save').hidden = !storage?.hasWork();
    document.getElementById('fault-aside').hidden = !storage?.hasWork();
    document.getElementById('fault').hidden = false;
    document.getElementById('fault-reload').onclick = () => location.reload();
    document.getElementById('fault-save').onclick = () => {
      for (const [key, bytes] of storage.items()) host.files.save(`facetwright-${key}.json`, 'application/json', bytes);
    };
    document.getElementById('fault-aside').onclick = async () => {
      await storage.setAside();
      location.replace(location.pathname + location.search);
    };
  };
}
