// Keys by what they mean on the person's own layout. Keys steer, text is text: a letter goes in as a key only with
// Control or Command, or while no text is being typed, so that single-letter commands work.
const names = {
  Tab: 'Tab', ArrowLeft: 'LeftArrow', ArrowRight: 'RightArrow', ArrowUp: 'UpArrow', ArrowDown: 'DownArrow',
  PageUp: 'PageUp', PageDown: 'PageDown', Home: 'Home', End: 'End', Insert: 'Insert', Delete: 'Delete',
  Backspace: 'Backspace', Enter: 'Enter', Escape: 'Escape', ' ': 'Space', '-': 'Minus', '=': 'Equal', '+': 'Equal',
  '/': 'Slash', '?': 'Slash', ',': 'Comma', '.': 'Period', '[': 'LeftBracket', ']': 'RightBracket',
};
// What the browser would do by itself with these would surprise here. F5, F12, Ctrl+F and the like stay the browser's.
const ours = new Set(['Tab', 'Backspace', 'ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight', ' ', 'PageUp', 'PageDown', 'Home', 'End', '/', "'", 'Escape', 'Enter', 'F1']);
const oursWithControl = /^[acopsxyz]$/i;

export function listenToKeys(host) {
  const { canvas, program } = host;
  const known = new Map();
  const keyNumber = (name) => {
    if (!known.has(name)) known.set(name, program.ccall('fw_key_named', 'number', ['string'], [name]));
    return known.get(name);
  };
  const nameOf = (event) => {
    if (names[event.key]) return names[event.key];
    if (/^[a-z0-9]$/i.test(event.key)) return event.key.toUpperCase();
    return /^F\d+$/.test(event.key) ? event.key : null;
  };
  const modifiers = (event) => (event.ctrlKey ? 1 : 0) | (event.shiftKey ? 2 : 0) | (event.altKey ? 4 : 0) | (event.metaKey ? 8 : 0);
  const forUs = (event) => event.target === canvas || event.target === host.text.element || event.target === document.body;
  const letterKeysDown = new Set();

  addEventListener('keydown', (event) => {
    if (!forUs(event) || event.isComposing || event.keyCode === 229) return;
    const command = event.ctrlKey || event.metaKey;
    // Paste comes back as an event of its own, with the text and without asking for permission.
    if (command && /^v$/i.test(event.key)) return;
    const name = nameOf(event);
    const printable = event.key.length === 1;
    const typing = host.text.wanted() && printable && !command;
    if (name && !typing) {
      program._fw_key(keyNumber(name), 1, modifiers(event));
      if (printable) letterKeysDown.add(keyNumber(name));
    } else if (!printable) {
      program._fw_key(0, 0, modifiers(event));
    }
    if (command && /^[cx]$/i.test(event.key)) {
      // Copying must happen while the browser still sees a key press.
      host.frames.now();
      host.frames.now();
      host.clipboard.giveOut();
    }
    if (command ? oursWithControl.test(event.key) : ours.has(event.key) && event.target !== host.text.element) event.preventDefault();
    if (event.key === 'Tab') event.preventDefault();
    if (printable && !command && event.target !== host.text.element) {
      program.ccall('fw_text', null, ['string'], [event.key]);
      event.preventDefault();
    }
  });

  addEventListener('keyup', (event) => {
    const name = nameOf(event);
    program._fw_key(name ? keyNumber(name) : 0, 0, modifiers(event));
    letterKeysDown.delete(name ? keyNumber(name) : 0);
    // Some systems report no release for letters while Command is held.
    if (event.key === 'Meta') {
      for (const key of letterKeysDown) program._fw_key(key, 0, modifiers(event));
      letterKeysDown.clear();
    }
  });
  addEventListener('blur', () => letterKeysDown.clear());
  host.keyNumber = keyNumber;
}
