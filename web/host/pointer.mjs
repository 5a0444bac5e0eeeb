// Mouse, pen and fingers. Two fingers pinch: their distance becomes a wheel at their middle.
const outside = -1e6; // where no control is
const buttonOf = [0, 2, 1, 3, 4]; // the browser's order is left, middle, right

export function listenToPointer(host) {
  const { canvas, program } = host;
  const held = new Map(); // pointer id → position
  let spread = 0;

  const place = (event) => {
    const box = canvas.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };
  const distance = () => {
    const [a, b] = [...held.values()];
    return Math.max(Math.hypot(a[0] - b[0], a[1] - b[1]), 1);
  };
  const isTouch = (event) => (event.pointerType === 'mouse' ? 0 : 1);

  canvas.addEventListener('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    held.set(event.pointerId, place(event));
    event.preventDefault();
    if (event.pointerType === 'touch' && held.size > 1) {
      // The second finger ends what the first began to press.
      if (held.size === 2) { program._fw_button(0, 0); spread = distance(); }
      return;
    }
    program._fw_pointer(...place(event), isTouch(event));
    // A finger does not hover first: what lies under it must be known before the press counts.
    if (isTouch(event)) host.frames.now();
    program._fw_button(buttonOf[event.button] ?? 0, 1);
    // Run the press at once, so that a text field is known to want text while the finger's event is still going on.
    host.frames.now();
    if (document.activeElement !== host.text.element) canvas.focus({ preventScroll: true });
  });

  canvas.addEventListener('pointermove', (event) => {
    if (held.has(event.pointerId)) held.set(event.pointerId, place(event));
    if (event.pointerType === 'touch' && held.size === 2) {
      const now = distance();
      const [a, b] = [...held.values()];
      program._fw_pointer((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, 1);
      program._fw_wheel(0, Math.log2(now / spread) * 4);
      spread = now;
      return;
    }
    program._fw_pointer(...place(event), isTouch(event));
  });

  function release(event) {
    const fingers = held.size;
    held.delete(event.pointerId);
    if (event.pointerType === 'touch' && fingers > 1) return;
    program._fw_pointer(...place(event), isTouch(event));
    program._fw_button(buttonOf[event.button] ?? 0, 0);
    // A finger that has left hovers over nothing.
    if (event.pointerType === 'touch') requestAnimationFrame(() => requestAnimationFrame(() => program._fw_pointer(outside, outside, 1)));
    host.text.focusIfWanted();
  }
  canvas.addEventListener('pointerup', release);
  canvas.addEventListener('pointercancel', release);
  canvas.addEventListener('pointerleave', (event) => {
    if (event.pointerType === 'mouse' && held.size === 0) program._fw_pointer(outside, outside, 0);
  });

  canvas.addEventListener('wheel', (event) => {
    event.preventDefault();
    const notch = [1 / 100, 1 / 3, 1][event.deltaMode] ?? 1;
    program._fw_wheel(-event.deltaX * notch, -event.deltaY * notch);
  }, { passive: false });
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  addEventListener('blur', () => program._fw_focus(0));
  addEventListener('focus', () => program._fw_focus(1));
}
