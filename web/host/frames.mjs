// Draws a frame when one is asked for, and never otherwise. The program says when the next one is wanted.
export function makeFrames(host) {
  let next = 0; // the browser's number of the coming frame, 0 for none
  let timer = 0;
  let paused = false;
  let stopped = false;

  function now() {
    if (paused || stopped || !host.program) return;
    cancelAnimationFrame(next);
    clearTimeout(timer);
    next = timer = 0;
    let wait = -1;
    try {
      wait = host.program._fw_frame(performance.now() / 1000);
    } catch (error) {
      host.fault(error?.message ?? String(error));
      return;
    }
    if (stopped) return;
    if (wait === 0) schedule();
    else if (wait > 0) timer = setTimeout(schedule, wait * 1000);
  }

  function schedule() {
    if (next || paused || stopped) return;
    clearTimeout(timer);
    timer = 0;
    next = requestAnimationFrame(now);
  }

  return {
    now,
    schedule,
    pause() { paused = true; cancelAnimationFrame(next); clearTimeout(timer); next = timer = 0; },
    resume() { paused = false; schedule(); },
    stop() { stopped = true; cancelAnimationFrame(next); clearTimeout(timer); },
    stopped: () => stopped,
    // Nothing is going to be drawn unless something happens.
    idle: () => !next && !timer,
  };
}
