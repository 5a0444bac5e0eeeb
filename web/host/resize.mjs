// Keeps the canvas' drawing buffer at the device's own resolution.
export function followSize(host) {
  const { canvas, program } = host;

  function measure(box) {
    const width = canvas.clientWidth;
    const height = canvas.clientHeight;
    if (!width || !height) return;
    const ratio = devicePixelRatio || 1;
    let pixelsAcross = Math.round(width * ratio);
    let pixelsDown = Math.round(height * ratio);
    // The browser's own count of device pixels is exact, where it exists and where it makes sense.
    if (box && Math.abs(box.inlineSize - width * ratio) <= 1.5 && Math.abs(box.blockSize - height * ratio) <= 1.5) {
      pixelsAcross = box.inlineSize;
      pixelsDown = box.blockSize;
    }
    if (canvas.width !== pixelsAcross || canvas.height !== pixelsDown) {
      canvas.width = pixelsAcross;
      canvas.height = pixelsDown;
    }
    program._fw_resize(width, height, pixelsAcross / width);
    // At once: a canvas whose size was set is blank until it is drawn.
    host.frames.now();
  }

  measure();
  const observer = new ResizeObserver((entries) => measure(entries[0].devicePixelContentBoxSize?.[0]));
  try {
    observer.observe(canvas, { box: 'device-pixel-content-box' });
  } catch {
    observer.observe(canvas);
  }
  // A window moved to a screen of another density keeps its size but not its ratio.
  (function watchDensity() {
    matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener('change', () => { measure(); watchDensity(); }, { once: true });
  })();
}
