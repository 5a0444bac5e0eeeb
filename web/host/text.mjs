// Typed text through a hidden text area, so that input methods, dead keys and soft keyboards work.
export function makeText(host) {
  const element = document.getElementById('text');
  // A soft keyboard's Backspace does nothing in an empty field, so the field always holds one character.
  const filler = ' ';
  let wanted = false;
  let composing = false;

  const reset = () => { element.value = filler; element.setSelectionRange(1, 1); };
  const send = (text) => { if (text) host.program.ccall('fw_text', null, ['string'], [text]); };
  const press = (name) => {
    const key = host.keyNumber(name);
    host.program._fw_key(key, 1, 0);
    host.frames.now();
    host.program._fw_key(key, 0, 0);
  };

  return {
    element,
    wanted: () => wanted,

    // The program says after each frame whether text is wanted and where the caret is.
    want(on, x, y, height) {
      if (on) {
        element.style.left = `${Math.max(0, Math.min(x, innerWidth - 20))}px`;
        element.style.top = `${Math.max(0, Math.min(y, innerHeight - height - 2))}px`;
      }
      if (on === wanted) return;
      wanted = on;
      if (on) { reset(); element.focus({ preventScroll: true }); } else if (document.activeElement === element) host.canvas.focus({ preventScroll: true });
    },

    // Tablets open their keyboard only while a touch is being answered.
    focusIfWanted() { if (wanted && document.activeElement !== element) element.focus({ preventScroll: true }); },

    listen() {
      element.addEventListener('compositionstart', () => { composing = true; });
      element.addEventListener('compositionend', (event) => { composing = false; send(event.data); reset(); });
      element.addEventListener('input', (event) => {
        if (composing || event.isComposing) return;
        if (event.inputType === 'deleteContentBackward') press('Backspace');
        else if (event.inputType === 'insertLineBreak') press('Enter');
        else send(element.value.startsWith(filler) ? element.value.slice(filler.length) : element.value);
        reset();
      });
    },
  };
}
