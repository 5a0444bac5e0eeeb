// One worker: gets the compiled program once, then answers jobs one after the other. A job may arrive before the program.
import create from './compute.mjs';

let take;
const program = new Promise((resolve) => { take = resolve; });

async function answer(bytes) {
  const compute = await program;
  const at = compute._malloc(Math.max(bytes.length, 1));
  compute.HEAPU8.set(bytes, at);
  const ok = compute._fw_worker_run(at, bytes.length) === 1;
  compute._free(at);
  const from = compute._fw_worker_reply();
  const reply = compute.HEAPU8.slice(from, from + compute._fw_worker_reply_length());
  compute._fw_worker_free();
  postMessage({ ok, bytes: reply }, [reply.buffer]);
}

// An error that leaves a promise reaches nobody; thrown here it reaches the pool, which replaces this worker.
const fail = (error) => setTimeout(() => { throw error; });

onmessage = ({ data }) => {
  if (!data.module) {
    answer(data.bytes).catch(fail);
    return;
  }
  create({
    tellProgress: (share) => postMessage({ progress: share }),
    instantiateWasm(imports, use) {
      WebAssembly.instantiate(data.module, imports).then((instance) => use(instance)).catch(fail);
      return {};
    },
  }).then(take, fail);
};
