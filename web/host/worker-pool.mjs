// Shares jobs among module workers. The worker's program is compiled once and handed to each; no memory is shared, so
// any static host can serve the page.
import { passBytes } from './memory.mjs';

// A cancelled job that still runs after this long costs its worker, which is then made anew (50 to 80 ms).
const patienceMs = 150;

export function makePool(host) {
  const size = Math.max(1, (navigator.hardwareConcurrency || 2) - 1);
  const waiting = []; // jobs in the order posted: {id, bytes}
  const workers = []; // {worker, job, cancelled}
  let compiled = null;

  function compile() {
    compiled ??= WebAssembly.compileStreaming(fetch(new URL('../compute.wasm', import.meta.url)));
    return compiled;
  }

  function reply(id, ok, bytes) {
    passBytes(host.program, bytes, (at, length) =>
      host.program.ccall('fw_job_reply', null, ['number', 'number', 'number', 'number'], [id, ok ? 1 : 0, at, length]));
  }

  function finish(slot, ok, bytes) {
    const { job, cancelled } = slot;
    slot.job = null;
    slot.cancelled = false;
    if (job && !cancelled) reply(job.id, ok, bytes);
    feed();
  }

  function breakDown(slot, sentence) {
    slot.worker.terminate();
    workers.splice(workers.indexOf(slot), 1);
    finish(slot, false, new TextEncoder().encode(sentence));
  }

  async function hire() {
    const slot = { worker: new Worker(new URL('../worker.mjs', import.meta.url), { type: 'module' }), job: null, cancelled: false };
    workers.push(slot);
    slot.worker.onmessage = ({ data }) => {
      if (data.progress === undefined) finish(slot, data.ok, data.bytes);
      else if (slot.job && !slot.cancelled) host.program._fw_job_progress(slot.job.id, data.progress);
    };
    slot.worker.onerror = (event) => breakDown(slot, event.message || 'a worker could not be started');
    try {
      slot.worker.postMessage({ module: await compile() });
    } catch (error) {
      compiled = null;
      breakDown(slot, `the workers' program could not be loaded: ${error.message}`);
    }
  }

  function feed() {
    while (waiting.length) {
      let slot = workers.find((each) => !each.job);
      if (!slot) {
        if (workers.length >= size) return;
        hire();
        slot = workers.find((each) => !each.job);
        if (!slot) return;
      }
      slot.job = waiting.shift();
      slot.worker.postMessage({ bytes: slot.job.bytes }, [slot.job.bytes.buffer]);
    }
  }

  return {
    size,
    get open() { return waiting.length + workers.filter((slot) => slot.job && !slot.cancelled).length; },
    post(id, bytes) {
      waiting.push({ id, bytes });
      feed();
    },
    cancel(id) {
      const at = waiting.findIndex((job) => job.id === id);
      if (at >= 0) waiting.splice(at, 1);
      const slot = workers.find((each) => each.job?.id === id);
      if (!slot) return;
      slot.cancelled = true;
      setTimeout(() => { if (slot.cancelled && slot.job?.id === id) breakDown(slot, 'cancelled'); }, patienceMs);
    },
  };
}
