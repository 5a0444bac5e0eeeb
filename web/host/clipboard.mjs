// Copy goes to the system at the key press; paste comes in with the browser's own event.
export function makeClipboard(host) {
  let copied = null;

  // Without the clipboard interface (a page on plain http) a selection in the hidden text area is copied instead.
  function copyBySelection(text) {
    const element = host.text.element;
    const before = document.activeElement;
    element.value = text;
    element.focus({ preventScroll: true });
    element.select();
    const done = document.execCommand('copy');
    element.value = ' ';
    if (before && before !== element) before.focus({ preventScroll: true });
    return done;
  }

  async function write(text) {
    try {
      await navigator.clipboard.writeText(text);
      return true;
    } catch {
      return copyBySelection(text);
    }
  }

  function giveOut() {
    if (copied === null) return;
    const text = copied;
    copied = null;
    if (navigator.clipboard?.writeText) write(text);
    else copyBySelection(text);
  }

  return {
    // From the program; handed on in the same turn of the browser, which still counts as the person's own act.
    copy(text) { copied = text; queueMicrotask(giveOut); },
    giveOut,
    write: (text) => (navigator.clipboard?.writeText ? write(text) : Promise.resolve(copyBySelection(text))),
    listen() {
      addEventListener('paste', (event) => {
        const target = event.target;
        if (target !== host.text.element && target !== host.canvas && target !== document.body) return;
        if (event.clipboardData?.files.length) {
          event.preventDefault();
          host.files.take(event.clipboardData.files);
          return;
        }
        const text = event.clipboardData?.getData('text/plain');
        if (text === undefined) return;
        event.preventDefault();
        const { program } = host;
        program.ccall('fw_pasted', null, ['string'], [text]);
        const key = host.keyNumber('V');
        const modifier = /Mac|iPhone|iPad/.test(navigator.platform) ? 8 : 1;
        program._fw_key(key, 1, modifier);
        host.frames.now();
        host.frames.now();
        program._fw_key(key, 0, 0);
      });
    },
  };
}
